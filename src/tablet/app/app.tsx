import { ErrorBoundary, LocationProvider, lazy, Route, Router } from 'preact-iso';
import { Now } from '../screens/now/now.tsx';
import { PinAsker } from './ask-pin.tsx';
import { Problem } from './problem.tsx';
import { SaveFailure } from './save-failure.tsx';
import { failure, phase } from './tablet.ts';
import { UpdateOffer } from './update-offer.tsx';
import { WhoAsker } from './who.tsx';

const Start = lazy(() => import('../screens/start/start.tsx').then((m) => m.Start));
const Sequence = lazy(() => import('../screens/sequence/sequence.tsx').then((m) => m.Sequence));
const OperationScreen = lazy(() => import('../screens/operation/operation.tsx').then((m) => m.OperationScreen));
const Surveys = lazy(() => import('../screens/survey/surveys.tsx').then((m) => m.Surveys));
const Survey = lazy(() => import('../screens/survey/survey.tsx').then((m) => m.Survey));
const HoldScreen = lazy(() => import('../screens/hold/hold.tsx').then((m) => m.HoldScreen));
const Findings = lazy(() => import('../screens/findings/findings.tsx').then((m) => m.Findings));
const FindingScreen = lazy(() => import('../screens/findings/finding.tsx').then((m) => m.FindingScreen));
const RecordScreen = lazy(() => import('../screens/record/record.tsx').then((m) => m.RecordScreen));
const EntryScreen = lazy(() => import('../screens/record/entry.tsx').then((m) => m.EntryScreen));
const Furnace = lazy(() => import('../screens/furnace/furnace.tsx').then((m) => m.Furnace));
const RoundScreen = lazy(() => import('../screens/furnace/round.tsx').then((m) => m.RoundScreen));
const Setup = lazy(() => import('../screens/setup/setup.tsx').then((m) => m.Setup));

/** The whole app: first run, or the screens of the open casting. */
export function App() {
  if (phase.value === 'starting') return null;
  if (phase.value === 'failed') return <Problem title="This tablet cannot open its log" words={failure.value ?? ''} />;
  return (
    <LocationProvider>
      <ErrorBoundary>
        {phase.value === 'no casting' ? (
          <Start />
        ) : (
          <Router>
            <Route path="/" component={Now} />
            <Route path="/sequence" component={Sequence} />
            <Route path="/sequence/:operation" component={OperationScreen} />
            <Route path="/survey" component={Surveys} />
            <Route path="/survey/:operation/:characteristic" component={Survey} />
            <Route path="/furnace" component={Furnace} />
            <Route path="/furnace/:operation/round" component={RoundScreen} />
            <Route path="/hold/:hold" component={HoldScreen} />
            <Route path="/findings" component={Findings} />
            <Route path="/findings/:finding" component={FindingScreen} />
            <Route path="/record" component={RecordScreen} />
            <Route path="/record/:hash" component={EntryScreen} />
            <Route path="/setup" component={Setup} />
            <Route path="/start" component={Start} />
            <Route default component={Now} />
          </Router>
        )}
        <PinAsker />
        <WhoAsker />
        <SaveFailure />
        <UpdateOffer />
      </ErrorBoundary>
    </LocationProvider>
  );
}

import type { ComponentType } from 'preact';
import { ErrorBoundary, LocationProvider, lazy, Route, Router } from 'preact-iso';
import { Now } from '../screens/now/now.tsx';
import { pinAsked } from './ask-pin.ts';
import { hallAsked } from './hall-asked.ts';
import { Problem } from './problem.tsx';
import { ReadingLog } from './reading-log.tsx';
import { saveFailure } from './save-failure.ts';
import { CHART, failure, phase, view } from './tablet.ts';
import { UpdateOffer } from './update-offer.tsx';
import { whoAsked } from './who.ts';

/** A screen that needs the whole log waits for it, with progress. */
const whenRead = (Part: ComponentType) =>
  function WhenRead() {
    return view.value ? <Part /> : <ReadingLog />;
  };

// What stands over the screens when it is asked for.
const PinAsker = lazy(() => import('./pin-asker.tsx').then((m) => m.PinAsker));
const WhoAsker = lazy(() => import('./who-asker.tsx').then((m) => m.WhoAsker));
const HallNumbers = lazy(() => import('./hall-numbers.tsx').then((m) => m.HallNumbers));
const SaveFailure = lazy(() => import('./save-failure-told.tsx').then((m) => m.SaveFailure));
const Start = lazy(() => import('../screens/start/start.tsx').then((m) => m.Start));
const Sequence = whenRead(lazy(() => import('../screens/sequence/sequence.tsx').then((m) => m.Sequence)));
const OperationScreen = whenRead(
  lazy(() => import('../screens/operation/operation.tsx').then((m) => m.OperationScreen)),
);
const Surveys = whenRead(lazy(() => import('../screens/survey/surveys.tsx').then((m) => m.Surveys)));
const Survey = whenRead(lazy(() => import('../screens/survey/survey.tsx').then((m) => m.Survey)));
const BatchChange = whenRead(
  lazy(() => import('../screens/survey/change/batch-change.tsx').then((m) => m.BatchChange)),
);
const HoldScreen = whenRead(lazy(() => import('../screens/hold/hold.tsx').then((m) => m.HoldScreen)));
const Findings = whenRead(lazy(() => import('../screens/findings/findings.tsx').then((m) => m.Findings)));
const FindingScreen = whenRead(lazy(() => import('../screens/findings/finding.tsx').then((m) => m.FindingScreen)));
const RecordScreen = whenRead(lazy(() => import('../screens/record/record.tsx').then((m) => m.RecordScreen)));
const EntryScreen = whenRead(lazy(() => import('../screens/record/entry.tsx').then((m) => m.EntryScreen)));
const Furnace = whenRead(lazy(() => import('../screens/furnace/furnace.tsx').then((m) => m.Furnace)));
const RoundScreen = whenRead(lazy(() => import('../screens/furnace/round.tsx').then((m) => m.RoundScreen)));
/** It stands before the log is read, as it was kept. */
export const loadChart = () => import('../screens/heat/chart-place.tsx');
const ChartPlace = lazy(() => loadChart().then((m) => m.ChartPlace));
const HeatPlaces = whenRead(lazy(() => import('../screens/heat/heat.tsx').then((m) => m.HeatPlaces)));
const MeltScreen = whenRead(lazy(() => import('../screens/furnace/melt.tsx').then((m) => m.MeltScreen)));
const SpinScreen = whenRead(lazy(() => import('../screens/furnace/spin.tsx').then((m) => m.SpinScreen)));
const HandoverScreen = whenRead(lazy(() => import('../screens/handover/handover.tsx').then((m) => m.HandoverScreen)));
const HallScreen = whenRead(lazy(() => import('../screens/hall/hall.tsx').then((m) => m.HallScreen)));
const Arrangements = whenRead(
  lazy(() => import('../screens/arrangements/arrangements.tsx').then((m) => m.Arrangements)),
);
const ArrangementScreen = whenRead(
  lazy(() => import('../screens/arrangements/arrangement.tsx').then((m) => m.ArrangementScreen)),
);
const PlanScreen = whenRead(lazy(() => import('../screens/plan/plan.tsx').then((m) => m.PlanScreen)));
const ChangeScreen = whenRead(lazy(() => import('../screens/plan/change.tsx').then((m) => m.ChangeScreen)));
const RevisionScreen = whenRead(lazy(() => import('../screens/plan/revision.tsx').then((m) => m.RevisionScreen)));
const Setup = whenRead(lazy(() => import('../screens/setup/setup.tsx').then((m) => m.Setup)));

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
            <Route path="/change/:operation/:characteristic" component={BatchChange} />
            <Route path="/furnace" component={Furnace} />
            <Route path="/furnace/:operation/round" component={RoundScreen} />
            <Route path={CHART} component={ChartPlace} />
            <Route path="/heat/:part/:id?" component={HeatPlaces} />
            <Route path="/furnace/:operation/melt" component={MeltScreen} />
            <Route path="/furnace/:operation/spin" component={SpinScreen} />
            <Route path="/handover/:handover?" component={HandoverScreen} />
            <Route path="/hold/:hold" component={HoldScreen} />
            <Route path="/findings" component={Findings} />
            <Route path="/findings/:finding" component={FindingScreen} />
            <Route path="/record" component={RecordScreen} />
            <Route path="/record/:hash" component={EntryScreen} />
            <Route path="/arrangements" component={Arrangements} />
            <Route path="/arrangements/:arrangement" component={ArrangementScreen} />
            <Route path="/hall" component={HallScreen} />
            <Route path="/plan" component={PlanScreen} />
            <Route path="/plan/change" component={ChangeScreen} />
            <Route path="/plan/:revision" component={RevisionScreen} />
            <Route path="/setup" component={Setup} />
            <Route path="/start" component={Start} />
            <Route default component={Now} />
          </Router>
        )}
        {pinAsked.value && <PinAsker />}
        {whoAsked.value && <WhoAsker />}
        {hallAsked.value && <HallNumbers />}
        {saveFailure.value && <SaveFailure />}
        <UpdateOffer />
      </ErrorBoundary>
    </LocationProvider>
  );
}

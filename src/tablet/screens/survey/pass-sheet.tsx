import { readObserved } from '../../app/observed-at.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import { PaperWords, PastMoment } from '../../shared-screens/past-moment.tsx';
import { WhoReads } from '../../shared-screens/who-reads.tsx';
import { lastInstrument } from './instruments-for.ts';
import { earlierSurvey } from './survey-of.ts';
import type { Pass } from './use-pass.ts';

const NONE = 'none';

/** What holds for the whole pass: which instrument, who reads, and whether it is typed from paper. */
export function PassSheet({ pass, onClose }: { pass: Pass; onClose: () => void }) {
  return (
    <Overlay title="For this pass" closeLabel="Done" onClose={onClose}>
      <div class="pass-sheet">
        <InstrumentList pass={pass} />
        <section>
          <h3>Who reads</h3>
          <WhoReads
            view={pass.view}
            legend="Observer"
            legendHidden
            observer={pass.draft.observer}
            onObserver={(observer) => pass.change({ observer })}
          />
        </section>
        <Paper pass={pass} />
      </div>
    </Overlay>
  );
}

function InstrumentList({ pass }: { pass: Pass }) {
  const { choices, draft, instrument, view, survey } = pass;
  const wanted = survey.characteristic.instruments;
  const className = (id: string) => view.plan.instrumentClasses.find((c) => c.id === id)?.name ?? id;
  const value = draft.instrument === null ? NONE : (instrument?.instrument.id ?? null);
  return (
    <section>
      <h3>Instrument</h3>
      {wanted.length > 0 && <p class="small dim">This is read with: {wanted.map(className).join(' or ')}.</p>}
      {choices.length === 0 && (
        <p class="small">
          No instrument is registered. <a href="/setup">Register one in Setup</a>, or record without.
        </p>
      )}
      <ChoiceList
        legend="Instrument"
        legendHidden
        value={value}
        onChoice={(id) => pass.change({ instrument: id === NONE ? null : id })}
        choices={[
          ...choices.map((c) => ({
            value: c.instrument.id,
            label: `${c.instrument.id}, ${c.instrument.line.name}`,
            detail: `${className(c.instrument.line.class)}, ${c.words}${c.ofClass ? '' : '; not the class for this'}`,
          })),
          {
            value: NONE,
            label: 'Without a registered instrument',
            detail: wanted.length > 0 ? 'kept, and shown as such' : '',
          },
        ]}
      />
      <InstrumentWarning pass={pass} />
    </section>
  );
}

/** Warns, never blocks. */
function InstrumentWarning({ pass }: { pass: Pass }) {
  const { instrument, survey, view, choices } = pass;
  if (!instrument) return null;
  const earlier = earlierSurvey(view, survey);
  const before = earlier && lastInstrument(view, earlier.operation.id, survey.characteristic.id);
  const { id } = instrument.instrument;
  const words = [
    ...(instrument.calibrated
      ? []
      : [
          `${id} is ${instrument.words}. Readings are kept and flagged, and count for no hold point until a later calibration finds it right.`,
        ]),
    ...(instrument.ofClass || choices.length === 0
      ? []
      : [`${id} is not of the class that the plan asks for. The reading is kept.`]),
    ...(before && before !== id
      ? [`Operation ${earlier.operation.id} was read with ${before}: the change needs the same instrument.`]
      : []),
  ];
  return words.length === 0 ? null : <p class="small asked">{words.join(' ')}</p>;
}

function Paper({ pass }: { pass: Pass }) {
  const { draft, change, view } = pass;
  const { timeZone } = view.genesis;
  const { paper } = draft;
  return (
    <section>
      <h3>Paper</h3>
      <PastMoment
        label="Typed from paper"
        which="on the paper"
        timeZone={timeZone}
        moment={paper}
        onMoment={(moment) => change({ paper: moment })}
      >
        <PaperWords observed={paper && readObserved(paper.date, paper.time, timeZone, new Date())} />
      </PastMoment>
    </section>
  );
}

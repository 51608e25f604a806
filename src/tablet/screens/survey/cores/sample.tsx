import { useMemo, useState } from 'preact/hooks';
import { chanceToFind } from '../../../../../shared/calculations/numeric/chance-to-find.ts';
import type { CoreSample } from '../../../../../shared/logbook/state/core-sample.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { addressWords } from '../../../../../shared/plan/core-stations.ts';
import { Overlay } from '../../../parts/overlay.tsx';
import { CalculationWorking } from '../../../shared-screens/calculation-working.tsx';
import type { Survey } from '../survey-of.ts';
import { sampleSource } from './sample-source.ts';

interface Props {
  readonly view: View;
  readonly survey: Survey;
  readonly sample: CoreSample;
}

/** How many cores the sample takes, or why all are read; a tap shows where it comes from. */
export function SampleButton(props: Props) {
  const { survey, sample } = props;
  const [open, setOpen] = useState(false);
  const grown = survey.walk.length === survey.items.length && sample.addresses.length < sample.lot;
  return (
    <>
      <button type="button" class="button sample-button" onClick={() => setOpen(true)}>
        {grown ? (
          'One is not within: all are read'
        ) : (
          <span>
            Sample <span class="n">{sample.addresses.length}</span> of <span class="n">{sample.lot}</span>
          </span>
        )}
      </button>
      {open && <SampleSheet {...props} grown={grown} onClose={() => setOpen(false)} />}
    </>
  );
}

function SampleSheet({ view, survey, sample, grown, onClose }: Props & { grown: boolean; onClose: () => void }) {
  const { characteristic, operation } = survey;
  const { addresses, lot } = sample;
  const source = useMemo(() => sampleSource(lot, addresses.length), [lot, addresses.length]);
  return (
    <Overlay title={`Sample, ${characteristic.name}`} onClose={onClose}>
      <div class="sample-sheet">
        <p>
          The plan asks for <b class="n">{addresses.length}</b> of <b class="n">{lot}</b> cores in operation{' '}
          {operation.id}
          {sample.stations.length > addresses.length && `, ${sample.stations.length} stations in all`}.{' '}
          {view.plan.samplingRule}
        </p>
        {grown && <p class="asked">One of them is outside or not proven: now all are read.</p>}
        <h3>How it was drawn</h3>
        <p class="small">
          Every tablet draws the same cores, from the fingerprint of this casting, the operation and the characteristic:
          nobody chooses them. The cores are put in order by sixths of the mould and by rings in each, those of one ring
          by lot; from a start by lot every {(lot / addresses.length).toFixed(2).replace(/0+$/, '')}th is taken
          (systematic sampling, W. G. Cochran, Sampling Techniques, 3rd ed., chapter 8).
        </p>
        <details class="sample-drawn">
          <summary>The cores drawn</summary>
          <p class="n">{addressWords(addresses)}</p>
        </details>
        <h3>What it finds</h3>
        <p class="small">
          Where so many of {lot} cores are bad, the sample finds at least one with this chance (hypergeometric
          distribution, 1 − C(N−d, n) / C(N, n)):
        </p>
        <ul class="sample-chances">
          {[1, 3, 5, 8, 13, 25].map((bad) => (
            <li key={bad}>
              <span class="n">{bad}</span> bad: <b class="n">{chanceWords(chanceToFind(lot, addresses.length, bad))}</b>
            </li>
          ))}
        </ul>
        <h3>Where the number comes from</h3>
        <p class="small">
          {source === null
            ? 'It is the plan’s own number: no single sampling plan of ISO 2859-1 is that small.'
            : source.sample_size === addresses.length
              ? 'ISO 2859-1 gives the same number, with none accepted that is not within:'
              : `It is the plan’s own number. The nearest single sampling plan of ISO 2859-1 that asks for no more takes ${source.sample_size}, with none accepted that is not within:`}
        </p>
        {source && <CalculationWorking calculation="sampling-plan" input={source.input} name="the sample" />}
      </div>
    </Overlay>
  );
}

/** What is not certain is not called 100 %. */
const chanceWords = (chance: number): string =>
  chance < 1 && chance > 0.99 ? '> 99 %' : `${Math.round(100 * chance)} %`;

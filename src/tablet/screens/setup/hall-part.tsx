import { useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { type Hall, hallOf } from '../../../../shared/logbook/state/hall.ts';
import { writeHall } from '../../acts/hall.ts';
import { numbersShown } from '../../app/hall-numbers.ts';
import { Problem } from '../../app/problem.tsx';
import { openView } from '../../app/tablet.ts';
import { dayAndTime } from '../../app/time.ts';
import { useDraft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { enterMovesOn, TextField } from '../../shared-screens/fields/field.tsx';
import { KeepersOnly } from './keepers-only.tsx';
import { Said } from './said.tsx';

interface Texts {
  site: string;
  numbers: { what: string; number: string }[];
  assembly: string;
  words: string;
}

/** What a hall usually has a number for; the numbers are its own. */
const USUAL = ['Fire and rescue', 'Ambulance', 'First aid on site', 'Control room'];

const textsOf = (hall: Hall | null): Texts => ({
  site: hall?.site ?? '',
  numbers: hall
    ? hall.numbers.map(({ what, number }) => ({ what, number }))
    : USUAL.map((what) => ({ what, number: '' })),
  assembly: hall?.assembly ?? '',
  words: hall?.words ?? '',
});

/** The hall's own emergency numbers: what stands, and a keeper's form to change it. */
export function HallPart() {
  const view = openView();
  const hall = hallOf(view);
  const said = useSignal<string | null>(null);
  return (
    <>
      <Sheet title={hall ? 'Change the numbers' : 'Enter the numbers'} graduated class="setup-side">
        <KeepersOnly what="enters the hall's numbers">
          <HallForm
            key={hall?.writtenAt ?? ''}
            hall={hall}
            onDone={() => {
              said.value = 'The numbers are kept. Print them and pin them up beside the furnace.';
            }}
          />
        </KeepersOnly>
      </Sheet>
      <Sheet title="The hall" class="setup-list">
        <div class="pad setup-panel">
          <Said words={said.value} />
          {hall ? <Standing hall={hall} /> : <p>No numbers are entered yet. One tap on the handset shows them.</p>}
          <button
            type="button"
            class="button"
            onClick={() => {
              numbersShown.value = true;
            }}
          >
            Show and print
          </button>
        </div>
      </Sheet>
    </>
  );
}

function Standing({ hall }: { hall: Hall }) {
  const { genesis, standing } = openView();
  return (
    <>
      <dl class="facts">
        {hall.numbers.map(({ what, number }) => [
          <dt key={`${what} ${number}`}>{what}</dt>,
          <dd key={`${what} ${number} is`} class="n">
            {number}
          </dd>,
        ])}
        {hall.assembly && [<dt key="a">Assembly point</dt>, <dd key="b">{hall.assembly}</dd>]}
      </dl>
      <p class="small dim">
        {hall.site}; written by {standing.person(hall.by)?.name ?? 'somebody not admitted'},{' '}
        {dayAndTime(hall.writtenAt, genesis.dayOne, genesis.timeZone)}
      </p>
    </>
  );
}

function HallForm({ hall, onDone }: { hall: Hall | null; onDone: () => void }) {
  const start = useMemo(() => textsOf(hall), [hall]);
  const draft = useDraft('setup/hall', start);
  const asked = useSignal(false);
  const { busy, problem, run } = useSaving();
  const { site, numbers, assembly, words } = draft.value;
  const filled = numbers.filter((n) => n.what.trim() && n.number.trim());
  const half = numbers.some((n) => Boolean(n.number.trim()) && !n.what.trim());
  const ask = !site.trim()
    ? 'Name the hall.'
    : half
      ? 'Say what each number is for.'
      : filled.length === 0
        ? 'Enter at least one number.'
        : null;
  const change = (i: number, part: Partial<Texts['numbers'][number]>) =>
    draft.change({ numbers: numbers.map((n, j) => (j === i ? { ...n, ...part } : n)) });
  const keep = async () => {
    asked.value = true;
    if (ask) return;
    const kept = await run(() =>
      writeHall({
        site: site.trim(),
        numbers: filled.map((n) => ({ what: n.what.trim(), number: n.number.trim() })),
        ...(assembly.trim() ? { assembly: assembly.trim() } : {}),
        ...(words.trim() ? { words: words.trim() } : {}),
      }),
    );
    if (!kept) return;
    await draft.clear();
    onDone();
  };
  if (!draft.ready) return null;
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Enter in any of the fields moves on; the fields are the controls
    <div class="setup-form" onKeyDown={enterMovesOn}>
      <div class="pad setup-fields">
        <div class="setup-wide">
          <TextField label="Hall or site" text={site} onText={(text) => draft.change({ site: text })} />
        </div>
        {numbers.map((n, i) => [
          <TextField key={`what ${i}`} label="For" text={n.what} onText={(what) => change(i, { what })} />,
          <TextField key={`number ${i}`} label="Number" text={n.number} onText={(number) => change(i, { number })} />,
        ])}
        <div class="setup-wide">
          <button
            type="button"
            class="button"
            onClick={() => draft.change({ numbers: [...numbers, { what: '', number: '' }] })}
          >
            One more number
          </button>
        </div>
        <div class="setup-wide">
          <TextField label="Assembly point" text={assembly} onText={(text) => draft.change({ assembly: text })} />
        </div>
        <div class="setup-wide">
          <TextField label="Other words" text={words} onText={(text) => draft.change({ words: text })} />
        </div>
      </div>
      {problem && (
        <Problem title="The numbers were not kept" words={problem} safe="What you typed is kept. Try again." />
      )}
      <div class="setup-action buttons">
        {asked.value && ask && (
          <p class="form-error" role="alert">
            {ask}
          </p>
        )}
        <button
          type="button"
          class={`button main ${ask ? 'missing' : ''}`}
          aria-busy={busy}
          onClick={() => void keep()}
        >
          {busy ? 'Saving' : 'Sign and keep'}
        </button>
      </div>
    </div>
  );
}

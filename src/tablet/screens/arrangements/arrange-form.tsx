import { useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import type { Body } from '../../../../shared/logbook/kinds.ts';
import type { Arrangement } from '../../../../shared/logbook/state/arrangements.ts';
import { instruments } from '../../../../shared/logbook/state/instruments.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { arrange, arrangeAnew } from '../../acts/arrangements.ts';
import { Problem } from '../../app/problem.tsx';
import { person } from '../../app/session.ts';
import { isoWithOffset } from '../../app/time.ts';
import { useDraft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { someone } from '../../app/who.ts';
import { enterMovesOn, SelectField, TextField } from '../../shared-screens/fields/field.tsx';
import { openWork } from '../../shared-screens/next-work.ts';
import { type ArrangementTexts, ENDS, missingOf, subjectOf, textsOf } from './arrangement-texts.ts';

type Props = {
  view: View;
  /** The arrangement that is changed; null makes a new one. */
  before: Arrangement | null;
  /** `channel/CR-1` or `instrument/RA-1`, where another screen leads here. */
  about: string;
};

const HOUR_MS = 3_600_000;

/** What is otherwise than planned, who owns it, and what ends it. */
export function ArrangeForm({ view, before, about }: Props) {
  const start = useMemo(() => textsOf(before?.line.body ?? null, about), [before, about]);
  const draft = useDraft(`arrangement/${before?.id ?? about}`, start);
  const asked = useSignal(false);
  const { route } = useLocation();
  const { busy, problem, run } = useSaving();
  if (!draft.ready) return null;
  const texts = draft.value;
  const ask = missingOf(texts);
  const keep = async () => {
    asked.value = true;
    if (ask) return;
    let id = before?.id ?? '';
    const kept = await run(async () => {
      if (!(await someone())) return false;
      const line = lineOf(view, before, texts);
      if (before) await arrangeAnew({ arrangement: before.id, ...line });
      else id = await arrange(line);
      return true;
    });
    if (!kept) return;
    await draft.clear();
    route(`/arrangements/${id}`);
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Enter in any of the fields moves on; the fields are the controls
    <div class="arrangement-form" onKeyDown={enterMovesOn}>
      <Fields view={view} before={before} texts={texts} change={draft.change} />
      {problem && <Problem title="It was not kept" words={problem} safe="What you typed is kept. Try again." />}
      {asked.value && ask && (
        <p class="form-error" role="alert">
          {ask}
        </p>
      )}
      <button type="button" class={`button main ${ask ? 'missing' : ''}`} aria-busy={busy} onClick={() => void keep()}>
        {busy ? 'Saving' : before ? 'Keep the change' : 'Arrange it'}
      </button>
    </div>
  );
}

/** Of an arrangement that was made before, only its end, its owner and the reason for the change are asked. */
function Fields(props: {
  view: View;
  before: Arrangement | null;
  texts: ArrangementTexts;
  change: (part: Partial<ArrangementTexts>) => void;
}) {
  const { view, before, texts, change } = props;
  const crew = view.standing.people().filter((p) => !p.retired);
  return (
    <>
      {!before && (
        <>
          <TextField label="What is different for now" text={texts.what} onText={(what) => change({ what })} />
          <SelectField
            label="About"
            text={texts.about}
            onText={(chosen) => change({ about: chosen })}
            choices={[
              { value: 'other', label: 'something else' },
              ...view.plan.channels.map((c) => ({ value: `channel/${c.id}`, label: `channel ${c.id}` })),
              ...instruments(view).map((i) => ({ value: `instrument/${i.id}`, label: `instrument ${i.id}` })),
            ]}
          />
        </>
      )}
      <SelectField
        label="Owner: who puts it right"
        text={texts.owner || (person.value?.id ?? '')}
        onText={(owner) => change({ owner })}
        choices={[{ value: '', label: 'choose' }, ...crew.map((p) => ({ value: p.id, label: p.name }))]}
      />
      <SelectField
        label="It ends at the latest"
        text={texts.ends}
        onText={(ends) => change({ ends })}
        choices={[{ value: '', label: 'choose' }, ...ENDS.map(({ value, label }) => ({ value, label }))]}
      />
      {texts.ends === 'when' && (
        <TextField label="It ends when" text={texts.when} onText={(when) => change({ when })} />
      )}
      <TextField label="Reason" text={texts.reason} onText={(reason) => change({ reason })} />
    </>
  );
}

function lineOf(
  view: View,
  before: Arrangement | null,
  texts: ArrangementTexts,
): Omit<Body<'arrangement'>, 'arrangement'> {
  const hours = ENDS.find((e) => e.value === texts.ends)?.hours ?? null;
  const operation = before?.line.body.operation ?? openWork(view)[0]?.operation.id ?? view.plan.operations.at(-1)!.id;
  return {
    operation,
    what: texts.what.trim(),
    subject: before?.line.body.subject ?? subjectOf(texts.about),
    owner: texts.owner || person.value!.id,
    endsAt: hours === null ? null : isoWithOffset(new Date(Date.now() + hours * HOUR_MS)),
    endsWhen: texts.ends === 'when' ? texts.when.trim() : null,
    reason: texts.reason.trim(),
  };
}

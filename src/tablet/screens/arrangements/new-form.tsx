import { useState } from 'preact/hooks';
import { instruments } from '../../../../shared/logbook/state/instruments.ts';
import { operationAt } from '../../../../shared/logbook/state/round-facts.ts';
import { heatInWork } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { arrange } from '../../acts/arrangements.ts';
import { person } from '../../app/session.ts';
import { type Draft, useDraft } from '../../app/use-draft.ts';
import { someone } from '../../app/who.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Sign } from '../../parts/icons.tsx';
import { openWork } from '../../shared-screens/next-work.ts';
import { type ArrangementTexts, emptyTexts, readArrangement, type SubjectKind } from './arrangement-draft.ts';
import { ArrangeForm, EndFields, OwnerField, WordsField } from './form-parts.tsx';

/** The operation in work: that of the heat that runs, else the first that is open. */
function operationInWork(view: View): string {
  const heat = heatInWork(view);
  if (heat?.ended_ms === null) return operationAt(view, heat, Date.now());
  return (openWork(view)[0]?.operation ?? view.plan.operations.at(-1)!).id;
}

interface Props {
  readonly view: View;
  /** What it is about, where the way here says so. */
  readonly kind: SubjectKind | '';
  readonly subject: string;
  readonly onDone: (arrangement: string) => void;
  readonly onLeave: () => void;
}

/** A new arrangement: what is different for now, why, whose it is, and when it ends. */
export function NewForm({ view, kind, subject, onDone, onLeave }: Props) {
  const draft = useDraft<ArrangementTexts>('arrangement/new', emptyTexts);
  const [ask, setAsk] = useState<string | null>(null);
  if (!draft.ready) return null;
  const texts = {
    ...draft.value,
    ...(draft.value.kind === '' ? { kind, subject } : {}),
    owner: draft.value.owner || (person.value?.id ?? ''),
    operation: draft.value.operation || operationInWork(view),
  };
  const keep = async () => {
    const line = readArrangement(texts, view.genesis.timeZone);
    if ('ask' in line) return setAsk(line.ask);
    setAsk(null);
    if (!(await someone())) return;
    const id = await arrange(line).catch(() => null);
    if (id === null) return;
    await draft.clear();
    onDone(id);
  };
  return (
    <ArrangeForm ask={ask} done="Keep it" onDone={() => void keep()} onLeave={onLeave}>
      <Subject view={view} texts={texts} change={draft.change} />
      <WordsField label="What is different for now" value={texts.what} onText={(what) => draft.change({ what })} />
      <WordsField label="Why" value={texts.reason} onText={(reason) => draft.change({ reason })} />
      <EndFields view={view} value={texts} change={draft.change} />
      <OwnerField view={view} value={texts.owner} onOwner={(owner) => draft.change({ owner })} />
      <label class="labelled">
        <span>Operation</span>
        <select
          class="input"
          value={texts.operation}
          onChange={(e) => draft.change({ operation: e.currentTarget.value })}
        >
          {view.plan.operations.map((o) => (
            <option key={o.id} value={o.id}>
              {o.id} {o.name}
            </option>
          ))}
        </select>
      </label>
      <p class="arrange-caution small">
        <Sign sign="warning" />
        <span>
          A bypassed alarm, interlock or guard can hurt someone. Local codes, the site's permits and licensed
          practitioners decide; this only keeps it in sight.
        </span>
      </p>
    </ArrangeForm>
  );
}

interface SubjectProps {
  readonly view: View;
  readonly texts: ArrangementTexts;
  readonly change: Draft<ArrangementTexts>['change'];
}

/** What it is about, and which one. */
function Subject({ view, texts: { kind, subject }, change }: SubjectProps) {
  const those =
    kind === 'channel'
      ? view.plan.channels.map((c) => ({ id: c.id, words: `${c.id} ${c.where}` }))
      : instruments(view).map((i) => ({ id: i.id, words: `${i.id} ${i.line.name}` }));
  return (
    <>
      <ChoiceList<SubjectKind>
        legend="What it is about"
        value={kind || null}
        onChoice={(chosen) => change({ kind: chosen, subject: '' })}
        choices={[
          { value: 'channel', label: 'A channel', detail: 'bypassed, stood in for, its alarm off' },
          { value: 'instrument', label: 'An instrument', detail: 'borrowed, or another in its place' },
          { value: 'other', label: 'Something else' },
        ]}
      />
      {(kind === 'channel' || kind === 'instrument') && (
        <label class="labelled">
          <span>{kind === 'channel' ? 'Channel' : 'Instrument'}</span>
          <select class="input" value={subject} onChange={(e) => change({ kind, subject: e.currentTarget.value })}>
            <option value="">{kind === 'channel' ? 'choose' : 'not in the register'}</option>
            {those.map(({ id, words }) => (
              <option key={id} value={id}>
                {words}
              </option>
            ))}
          </select>
        </label>
      )}
    </>
  );
}

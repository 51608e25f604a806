import { useState } from 'preact/hooks';
import type { View } from '../../../../shared/logbook/state/view.ts';
import type { PlanItem } from '../../../../shared/plan/revise-plan.ts';
import type { Draft } from '../../app/use-draft.ts';
import { Filter } from '../../parts/filter.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { enterMovesOn, FigureField, SelectField } from '../../shared-screens/fields/field.tsx';
import { figureText, type PlanDraft, type Proposal } from '../../shared-screens/plan-draft.ts';

const KINDS = [
  { value: 'limits', label: 'Limits' },
  { value: 'hours', label: 'Hours' },
  { value: 'heat', label: 'Heat' },
  { value: 'notice', label: 'Notice' },
] as const;

const ASKS: { readonly [K in PlanItem['kind']]: string } = {
  limits: 'Characteristic',
  hours: 'Operation',
  heat: 'Heat and segment',
  notice: 'Witness point',
};

interface Props {
  readonly view: View;
  readonly proposal: Proposal;
  readonly draft: Draft<PlanDraft>;
  /** Something differs from the plan in force. */
  readonly changed: boolean;
  readonly onLook: () => void;
}

/** What to change, its figures with their units, and the reason. */
export function FigureForm({ view, proposal, draft, changed, onLook }: Props) {
  const { value, change } = draft;
  const [ask, setAsk] = useState<string | null>(null);
  const open = proposal.items.find((i) => i.id === value.item);
  const kind = open?.kind ?? value.kind;
  const look = () => {
    const words = lacking(view, proposal, value, changed);
    setAsk(words);
    if (words === null) onLook();
  };
  return (
    <Sheet graduated title="Figures set anew">
      {/* biome-ignore lint/a11y/noStaticElementInteractions: Enter in any of the fields moves on; the fields are the controls */}
      <div class="pad plan-form" onKeyDown={enterMovesOn}>
        <Filter
          legend="What is changed"
          choices={KINDS}
          value={kind}
          onChoice={(chosen) => change({ kind: chosen, item: '' })}
        />
        <SelectField
          label={ASKS[kind]}
          text={open?.id ?? ''}
          onText={(item) => change({ item, kind })}
          choices={[
            { value: '', label: 'choose' },
            ...proposal.items.filter((i) => i.kind === kind).map((i) => ({ value: i.id, label: choiceOf(i) })),
          ]}
        />
        {open && <Figures item={open} proposal={proposal} draft={draft} />}
        <label class="labelled">
          <span>Reason for the revision</span>
          <textarea
            class="input"
            maxLength={2000}
            value={value.reason}
            onInput={(e) => change({ reason: e.currentTarget.value })}
          />
        </label>
        <div class="form-end">
          {ask && (
            <p class="form-error" role="alert">
              {ask}
            </p>
          )}
          <button type="button" class="button main wide" onClick={look}>
            See what it would do
          </button>
        </div>
      </div>
    </Sheet>
  );
}

const choiceOf = (item: PlanItem): string =>
  item.kind === 'limits' ? `${item.name} (${item.detail.replace(/^operations? /, '')})` : item.name;

interface FiguresProps {
  readonly item: PlanItem;
  readonly proposal: Proposal;
  readonly draft: Draft<PlanDraft>;
}

function Figures({ item, proposal, draft }: FiguresProps) {
  return (
    <>
      <p class="small">
        {item.name}, {item.detail}.
      </p>
      <div class="plan-figures">
        {item.figures.map(({ path, what, unit, value, mayBeEmpty }) => {
          const text = draft.value.typed[path] ?? figureText(value);
          return (
            <FigureField
              key={path}
              label={what}
              unit={unit}
              text={text}
              quiet={text === figureText(value)}
              error={proposal.faults.get(path)}
              note={noteOf(text, value, unit, mayBeEmpty)}
              onText={(typed) => draft.change({ typed: { ...draft.latest().typed, [path]: typed } })}
            />
          );
        })}
      </div>
    </>
  );
}

function noteOf(text: string, value: number | null, unit: string, mayBeEmpty: boolean): string {
  if (text !== figureText(value))
    return value === null ? 'until now: no limit' : `until now ${figureText(value)} ${unit}`;
  return value === null && mayBeEmpty ? 'no limit' : '';
}

/** What must be done before the revision can be looked at; null when nothing is. */
function lacking(view: View, proposal: Proposal, value: PlanDraft, changed: boolean): string | null {
  const [fault] = proposal.faults;
  if (fault) {
    const item = proposal.items.find((i) => i.figures.some((f) => f.path === fault[0]));
    return `${item?.name ?? ''}: ${fault[1]}`;
  }
  if (proposal.undecided.length > 0) return 'Choose which revision is followed where they differ.';
  if (!changed && view.heads.length === 1) return 'Nothing is changed yet.';
  return value.reason.trim() === '' ? 'A revision needs its reason.' : null;
}

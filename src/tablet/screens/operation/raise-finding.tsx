import { useState } from 'preact/hooks';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { characteristicById, stationsOf } from '../../../../shared/plan/lookup.ts';
import type { Operation } from '../../../../shared/plan/schema.ts';
import { raiseFinding } from '../../acts/findings.ts';
import { useDraft } from '../../app/use-draft.ts';
import { wasKept } from '../../app/was-kept.ts';
import { someone } from '../../app/who.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import { PhotoField } from '../../shared-screens/photos/photo-field.tsx';
import { emptyFinding, type FindingDraft, findingBody, findingKindsOf } from './finding-draft.ts';

interface Props {
  readonly view: View;
  readonly operation: Operation;
  readonly onClose: () => void;
}

const OWN = 'own';

/** Writes a finding: what is wrong, how grave, and what it holds up. Closing keeps what was written. */
export function RaiseFinding({ view, operation, onClose }: Props) {
  const draft = useDraft<FindingDraft>(`finding/${operation.id}`, emptyFinding);
  const [ask, setAsk] = useState<string | null>(null);
  const { value } = draft;
  const kinds = findingKindsOf(view.plan, operation);
  const choose = (name: string) => {
    const kind = kinds.find((k) => k.name === name);
    draft.change(
      kind ? { kind: name, title: name, severity: kind.severity, blocks: kind.blocks ?? '' } : { kind: OWN },
    );
  };
  const save = async () => {
    const body = findingBody(value, operation.id);
    if ('ask' in body) return setAsk(body.ask);
    if (!(await someone()) || !(await wasKept(raiseFinding(body)))) return;
    void draft.clear();
    onClose();
  };
  return (
    <Overlay title={`Finding on operation ${operation.id}`} onClose={onClose}>
      <ChoiceList
        legend="What is wrong"
        choices={[
          ...kinds.map((k) => ({
            value: k.name,
            label: k.name,
            detail: `${k.severity}; usually: ${k.usual.toLowerCase()}`,
          })),
          { value: OWN, label: 'Something else, in own words' },
        ]}
        value={value.kind === '' ? null : value.kind}
        onChoice={choose}
      />
      <label class="labelled">
        <span>Title</span>
        <input
          class="input"
          value={value.title}
          maxLength={200}
          onInput={(e) => draft.change({ title: e.currentTarget.value })}
        />
      </label>
      <label class="labelled">
        <span>What was seen (optional)</span>
        <textarea
          class="input"
          value={value.words}
          maxLength={2000}
          onInput={(e) => draft.change({ words: e.currentTarget.value })}
        />
      </label>
      <PhotoField photos={value.photos} draft={draft} />
      <ChoiceList
        legend="Severity"
        choices={view.plan.severities.map((s) => ({ value: s.id, label: s.id, detail: s.meaning }))}
        value={value.severity === '' ? null : value.severity}
        onChoice={(severity) => draft.change({ severity })}
      />
      <label class="labelled">
        <span>Hold point that it blocks</span>
        <select class="input" value={value.blocks} onChange={(e) => draft.change({ blocks: e.currentTarget.value })}>
          <option value="">none</option>
          {view.plan.holds.map((h) => (
            <option key={h.id} value={h.id}>
              {h.id} {h.name}
            </option>
          ))}
        </select>
      </label>
      <label class="labelled">
        <span>Owner, who looks after it</span>
        <select class="input" value={value.owner} onChange={(e) => draft.change({ owner: e.currentTarget.value })}>
          <option value="">crew lead</option>
          {view.standing
            .people()
            .filter((p) => !p.retired)
            .map((p) => (
              <option key={p.id} value={p.id}>
                {p.name}
              </option>
            ))}
        </select>
      </label>
      <Place view={view} operation={operation} value={value} change={draft.change} />
      <div class="form-end">
        {ask && (
          <p class="operation-asked" role="alert">
            {ask}
          </p>
        )}
        <button type="button" class="button main" onClick={() => void save()}>
          Raise it
        </button>
      </div>
    </Overlay>
  );
}

type PlaceProps = Pick<Props, 'view' | 'operation'> & {
  value: FindingDraft;
  change: (part: Partial<FindingDraft>) => void;
};

/** The characteristic and the station, where it is about one. */
function Place({ view, operation, value, change }: PlaceProps) {
  const characteristic = characteristicById(view.plan, value.characteristic);
  const stations = characteristic ? stationsOf(view.plan, characteristic).filter((s) => s.id !== 'one') : [];
  if (operation.measures.length === 0) return null;
  return (
    <>
      <label class="labelled">
        <span>Characteristic (optional)</span>
        <select
          class="input"
          value={value.characteristic}
          onChange={(e) => change({ characteristic: e.currentTarget.value, station: '' })}
        >
          <option value="">none</option>
          {operation.measures.map((id) => (
            <option key={id} value={id}>
              {characteristicById(view.plan, id)?.name ?? id}
            </option>
          ))}
        </select>
      </label>
      {stations.length > 0 && (
        <label class="labelled">
          <span>Station (optional)</span>
          <select class="input" value={value.station} onChange={(e) => change({ station: e.currentTarget.value })}>
            <option value="">none</option>
            {stations.map((s) => (
              <option key={s.id} value={s.id}>
                {s.label}
              </option>
            ))}
          </select>
        </label>
      )}
    </>
  );
}

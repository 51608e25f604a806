import { useMemo, useState } from 'preact/hooks';
import { coreAt } from '../../../../../shared/logbook/state/core-serials.ts';
import { type Finding, findings } from '../../../../../shared/logbook/state/findings.ts';
import { stationState } from '../../../../../shared/logbook/state/readings.ts';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { coresAt, isOfCores } from '../../../../../shared/plan/core-stations.ts';
import { stationsByCore } from '../../../../../shared/plan/cores.ts';
import { characteristicById } from '../../../../../shared/plan/lookup.ts';
import { changeCore } from '../../../acts/cores.ts';
import { TypingWay } from '../../../app/typing-way.ts';
import { useDraft } from '../../../app/use-draft.ts';
import { useSaving } from '../../../app/use-saving.ts';
import { ChoiceList } from '../../../parts/choice-list.tsx';
import { Overlay } from '../../../parts/overlay.tsx';
import { TextField } from '../../../shared-screens/fields/field.tsx';

const EMPTY = { serial: '', reason: '', finding: '' };
const NONE = 'none';

/** Another core takes the place of the one at an address; it is said what stops counting, and why. */
export function ChangeCore(props: {
  view: View;
  operation: string;
  address: string;
  onClose: (said?: string) => void;
}) {
  const { view, operation, address, onClose } = props;
  const draft = useDraft(`change core/${address}`, EMPTY);
  const [ask, setAsk] = useState<string | null>(null);
  const [way] = useState(() => new TypingWay());
  const { busy, problem, run } = useSaving();
  const found = useMemo(() => openFindingsAt(view, address), [view, address]);
  const readings = useMemo(() => readingsAt(view, address), [view, address]);
  if (!draft.ready) return null;
  const { value, change, clear } = draft;
  const { serial: before } = coreAt(view, address);
  const finding = value.finding || found[0]?.id || NONE;
  const keep = async () => {
    const serial = value.serial.trim().normalize('NFC');
    const reason = value.reason.trim() || found.find((f) => f.id === finding)?.title || '';
    if (serial === '') return setAsk('Scan the mark on the new core, or type it.');
    if (serial === before) return setAsk(`${serial} is the core that stands here now. Type the serial of the new one.`);
    if (reason === '') return setAsk('Say why the core is changed.');
    setAsk(null);
    const said = {
      operation,
      station: address,
      serial,
      reason,
      way: way.end(performance.now()),
      ...(finding === NONE ? {} : { finding }),
    };
    if (!(await run(async () => (await changeCore(said)) !== null))) return;
    await clear();
    onClose(`Saved: core ${address} is now ${serial}. Measure it anew.`);
  };
  return (
    <Overlay title={`Change core ${address}`} onClose={() => onClose()}>
      <div class="change-core">
        <p>
          {before === null ? 'No serial is entered for the core that stands here. ' : `Now ${before} stands here. `}
          {readings === 0
            ? 'Nothing has been read of it yet.'
            : `What was read of it, ${readings === 1 ? '1 reading' : `${readings} readings`} with those of the gaps around it, counts no more and stays readable. The new core is measured anew.`}
        </p>
        <TextField
          label="Serial of the new core"
          text={value.serial}
          onText={(serial) => {
            way.text(serial, performance.now());
            change({ serial });
          }}
        />
        {found.length > 0 && (
          <ChoiceList
            legend="The finding that asks for it"
            choices={[
              ...found.map((f) => ({ value: f.id, label: f.title, detail: f.state })),
              { value: NONE, label: 'Another reason' },
            ]}
            value={finding}
            onChoice={(chosen) => change({ finding: chosen })}
          />
        )}
        <TextField
          label={finding === NONE ? 'Why it is changed' : 'In own words (optional)'}
          text={value.reason}
          onText={(reason) => change({ reason })}
        />
        <div class="form-end">
          {(ask || problem) && (
            <p class={problem ? 'error small' : 'asked small'} role="status">
              {problem ? `Not saved: ${problem} What you typed is still here.` : ask}
            </p>
          )}
          <button type="button" class="button main wide" onClick={() => void keep()}>
            {busy ? 'Saving' : 'Change it, with PIN'}
          </button>
        </div>
      </div>
    </Overlay>
  );
}

/** What is open at a core: at its own stations, and in the gaps around it. */
function openFindingsAt(view: View, address: string): Finding[] {
  const found = findings(view).filter((f) => {
    if (f.state === 'closed' || f.station === undefined) return false;
    if (f.characteristic === undefined) return f.station === address;
    const characteristic = characteristicById(view.plan, f.characteristic);
    return characteristic !== undefined && isOfCores(view.plan, characteristic) && coresAt(f.station).includes(address);
  });
  // What is worst asks loudest.
  return found.sort((a, b) => Number(b.severity !== 'minor') - Number(a.severity !== 'minor'));
}

/** How many readings stand at a core in all operations. */
function readingsAt(view: View, address: string): number {
  let count = 0;
  for (const c of view.plan.characteristics.filter((k) => k.kind !== 'derived' && isOfCores(view.plan, k))) {
    for (const operation of c.operations)
      for (const { id } of stationsByCore(view.plan, c).get(address) ?? [])
        count += standing(view, `station/${operation}/${c.id}/${id}`);
  }
  return count;
}

const standing = (view: View, scope: string): number =>
  view.log.inScope(scope).length > 0 ? stationState(view, scope).current.length : 0;

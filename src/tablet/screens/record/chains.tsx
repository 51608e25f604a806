import { useMemo, useState } from 'preact/hooks';
import { faultWords } from '../../../../shared/logbook/faults.ts';
import { missingEntries } from '../../../../shared/logbook/state/conditions.ts';
import { type ChainFault, chainFaults } from '../../../../shared/logbook/state/uncounted.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { saveFile } from '../../acts/save-file.ts';
import { openStore } from '../../app/tablet.ts';
import { Sheet } from '../../parts/sheet.tsx';
import type { Proof } from '../../storage/prove.ts';
import { proveBeside } from '../../storage/prove-beside.ts';
import { PhotosKept } from './photos-kept.tsx';

/** The chains of all tablets: how long, whether whole, and the proof from the stored bytes. */
export function Chains({ view }: { view: View }) {
  const store = openStore();
  const [proof, setProof] = useState<Proof | null>(null);
  const [progress, setProgress] = useState<string | null>(null);
  const [copied, setCopied] = useState<string | null>(null);
  const { version } = view.log;
  const faults = useMemo(() => chainFaults(view), [view.log, version]);
  const devices = [...new Set([...view.log.devices(), ...faults.keys()])].sort();

  const prove = async () => {
    setProof(null);
    setProgress('0');
    setProof(await proveBeside(store.db.casting, (done, of) => setProgress(`${done} of ${of}`)));
    setProgress(null);
  };
  return (
    <Sheet title="Chains" aside={`${devices.length} tablets`} class="record-chains">
      {store.damaged.length > 0 && (
        <div class="error" role="alert">
          <b>Part of the record does not read as it was written</b>
          {store.damaged.map(({ place, fault }) => (
            <p key={place}>
              {place}: <code>{fault}</code>
            </p>
          ))}
          <p>
            Everything else stays usable. Save a copy, do not clear this tablet, and tell the keepers: another tablet
            may hold what is missing.
          </p>
        </div>
      )}
      <ul class="rows">
        {devices.map((device) => (
          <ChainRow key={device} view={view} device={device} faults={faults.get(device) ?? []} />
        ))}
      </ul>
      <div class="record-proof">
        <PhotosKept view={view} />
        <p class="small dim">
          The proof reads every stored entry again, works out its hash and its line to the one before, and checks every
          signature.
        </p>
        <div class="buttons">
          <button type="button" class="button main" onClick={() => void prove()}>
            Prove the chains
          </button>
          <button
            type="button"
            class="button"
            onClick={() => void saveFile().then(({ name, entries }) => setCopied(`${name}, ${entries} entries`))}
          >
            Save a copy as a file
          </button>
        </div>
        <div role="status">
          {progress !== null && <p>Checked {progress}</p>}
          {proof && <ProofWords proof={proof} />}
          {copied && <p>Saved: {copied}</p>}
        </div>
      </div>
    </Sheet>
  );
}

const counted = (n: number): string => (n === 1 ? '1 entry' : `${n} entries`);
const are = (n: number): string => (n === 1 ? 'is' : 'are');

interface RowProps {
  readonly view: View;
  readonly device: string;
  readonly faults: readonly ChainFault[];
}

function ChainRow({ view, device, faults }: RowProps) {
  const tablet = view.standing.tablets().find((t) => t.device === device);
  const head = view.log.head(device);
  const fork = view.log.forkOf(device);
  const behind = missingEntries(view).get(device) ?? 0;
  return (
    <>
      <li>
        <span class="grow">
          <b>{tablet?.name ?? 'tablet not admitted'}</b>
          {device === openStore().device && <span class="note"> this tablet</span>}
          <span class="note n record-hash">{head ? head[1].slice(0, 16) : 'nothing whole yet'}</span>
          {fork !== null && <span class="second outside">written twice at place {fork}</span>}
          {behind > 0 && (
            <span class="second outside">{`${counted(behind)} that should be here ${are(behind)} not`}</span>
          )}
        </span>
        <span class="n">{head?.[0] ?? 0}</span>
      </li>
      {faults.map(({ fault, count, first }) => (
        <li key={fault}>
          <a class="row" href={`/record/${first.hash}`}>
            <span class="grow">
              <b>{`${counted(count)} of ${tablet?.name ?? 'it'} ${count === 1 ? 'does' : 'do'} not count`}</b>
              <span class="second record-fault">{faultWords[fault]}</span>
            </span>
          </a>
        </li>
      ))}
    </>
  );
}

function ProofWords({ proof }: { proof: Proof }) {
  if (proof.faults.length === 0) {
    return (
      <p>
        <b>The chains are whole.</b> {proof.entries} entries and {proof.signatures} signatures fit.
      </p>
    );
  }
  return (
    <div class="error">
      <h3>{proof.faults.length} entries do not fit</h3>
      <p>The rest stays usable. Do not clear this tablet; save a copy and tell the keepers.</p>
      <ul class="small">
        {proof.faults.slice(0, 20).map((fault) => (
          <li key={fault} class="n">
            {fault}
          </li>
        ))}
      </ul>
    </div>
  );
}

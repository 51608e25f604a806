import { useSignal } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { strangers, type TabletLine, tabletLines } from '../../../../shared/logbook/state/branches.ts';
import type { JoinRequest } from '../../../../shared/sync/join-request.ts';
import { requestsHere } from '../../../../shared/sync/requests-here.ts';
import { type EntriesFile, openFile } from '../../acts/open-file.ts';
import { saveFile } from '../../acts/save-file.ts';
import { Problem } from '../../app/problem.tsx';
import { openStore, openView } from '../../app/tablet.ts';
import { dayAndTime } from '../../app/time.ts';
import { useSaving } from '../../app/use-saving.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { inGroups } from '../../shared-screens/fields/fingerprint.tsx';
import { FileButton } from '../../shared-screens/file-button.tsx';
import { wholeFile } from '../../shared-screens/file-words.ts';
import { NotAdmitted } from './not-admitted.tsx';
import { RequestPanel } from './request-panel.tsx';
import { Said } from './said.tsx';
import { nowWords, ServerPanel } from './server-panel.tsx';
import { TabletPanel } from './tablet-panel.tsx';
import { TakeIn } from './take-in.tsx';
import './tablets.css';

type Panel =
  | { readonly show: 'exchange'; readonly said?: string }
  | { readonly show: 'server' }
  | { readonly show: 'tablet'; readonly device: string }
  | { readonly show: 'request'; readonly request: JoinRequest }
  | { readonly show: 'file'; readonly file: EntriesFile };

/** The tablets of the casting, the server between them, and the exchange of entries by file. */
export function Tablets() {
  const { show } = useLocation().query;
  const panel = useSignal<Panel>({ show: show === 'server' ? 'server' : 'exchange' });
  const view = openView();
  const { device: own } = openStore();
  const lines = tabletLines(view);
  const requests = requestsHere(view);
  const admitted = lines.some((t) => t.device === own && t.name !== null);
  const shown = panel.value;
  const back = (said?: string) => {
    panel.value = { show: 'exchange', ...(said === undefined ? {} : { said }) };
  };
  if (shown.show === 'file') return <TakeIn file={shown.file} onDone={back} />;
  const chosen = shown.show === 'tablet' ? lines.find((t) => t.device === shown.device) : undefined;
  return (
    <>
      <Sheet
        title={
          shown.show === 'server'
            ? 'The server'
            : chosen
              ? (chosen.name ?? 'A tablet not admitted')
              : shown.show === 'request'
                ? 'Admit a tablet'
                : admitted
                  ? 'Exchange by file'
                  : 'This tablet is not admitted yet'
        }
        graduated
        class="setup-side"
      >
        {shown.show === 'server' ? (
          <ServerPanel onBack={() => back()} />
        ) : chosen ? (
          <TabletPanel
            key={chosen.device}
            tablet={chosen}
            request={requests.get(chosen.device)}
            onDone={back}
            onRequest={(request) => {
              panel.value = { show: 'request', request };
            }}
          />
        ) : shown.show === 'request' ? (
          <RequestPanel request={shown.request} onDone={back} />
        ) : (
          <Exchange
            said={shown.show === 'exchange' ? shown.said : undefined}
            admitted={admitted}
            onPanel={(next) => {
              panel.value = next;
            }}
          />
        )}
      </Sheet>
      <Sheet title="Tablets" aside={`${lines.filter((t) => t.name && !t.retired).length} admitted`} class="setup-list">
        <ul class="rows">
          <li>
            <button
              type="button"
              class="row"
              aria-current={shown.show === 'server' ? 'true' : undefined}
              onClick={() => {
                panel.value = { show: 'server' };
              }}
            >
              <span class="grow">
                <b>The server</b>
                <span class="second small dim">{nowWords()}</span>
              </span>
            </button>
          </li>
          {lines.map((tablet) => (
            <li key={tablet.device}>
              <button
                type="button"
                class="row"
                aria-current={tablet.device === chosen?.device ? 'true' : undefined}
                onClick={() => {
                  panel.value = { show: 'tablet', device: tablet.device };
                }}
              >
                <TabletWords tablet={tablet} asks={requests.get(tablet.device)?.name} />
              </button>
            </li>
          ))}
        </ul>
        <Strangers />
      </Sheet>
    </>
  );
}

function TabletWords({ tablet, asks }: { tablet: TabletLine; asks: string | undefined }) {
  const { genesis } = openView();
  const own = tablet.device === openStore().device;
  return (
    <>
      <span class="grow">
        <b>{tablet.name ?? `Not admitted: ${inGroups(tablet.device).slice(0, 2).join(' ')} …`}</b>
        <span class="second small dim">
          {tablet.retired && 'retired; '}
          {tablet.lastAt
            ? `last wrote ${dayAndTime(tablet.lastAt, genesis.dayOne, genesis.timeZone)}`
            : 'nothing of it is here'}
        </span>
        {tablet.forkedAt !== null && (
          <span class="second small setup-out">Written twice from place {tablet.forkedAt} on: a keeper decides</span>
        )}
        {tablet.missing > 0 && (
          <span class="second small setup-soon">
            {tablet.missing} {tablet.missing === 1 ? 'entry that others knew is' : 'entries that others knew are'} not
            here
          </span>
        )}
        {asks !== undefined && !own && (
          <span class="second small setup-soon">
            {tablet.name === null ? `Asks to be admitted as ${asks}` : 'Asks you to vouch for keys made on it'}
          </span>
        )}
        {tablet.name === null && tablet.entries > 0 && (
          <span class="second small setup-soon">Its entries are kept and count as no evidence</span>
        )}
      </span>
      {own && <span class="tag">this tablet</span>}
      <span class="n">{tablet.entries}</span>
    </>
  );
}

function Strangers() {
  const count = strangers(openView()).length;
  if (count === 0) return null;
  return (
    <p class="pad small dim">
      {count === 1 ? 'One writer' : `${count} writers`} of entries here are admitted by no keeper: what they wrote is
      kept and counts as no evidence.
    </p>
  );
}

type ExchangeProps = { said: string | undefined; admitted: boolean; onPanel: (next: Panel) => void };

/** The two ways of a file, and what a tablet that is not admitted asks for. */
function Exchange({ said, admitted, onPanel }: ExchangeProps) {
  const saved = useSignal<string | undefined>(undefined);
  const { busy, problem, run } = useSaving();
  const { device } = openStore();
  const { log } = openView();
  const open = (file: File) =>
    run(async () => {
      saved.value = undefined;
      const opened = await openFile(file, openStore().db.casting);
      if (opened.is === 'nothing') throw new Error(`${opened.name}: ${wordsOf(opened.fault)}`);
      onPanel(opened.is === 'request' ? { show: 'request', request: opened.request } : { show: 'file', file: opened });
      return true;
    });
  const save = () =>
    run(async () => {
      const { name, entries } = await saveFile();
      saved.value = `Saved ${entries} entries as ${name}. Carry it to the other tablet and open it there.`;
      return true;
    });
  return (
    <div class="pad setup-panel">
      <Said words={said ?? saved.value} />
      {problem && <Problem title="Nothing was taken in" words={problem} safe="The log is as it was." />}
      {!admitted && <NotAdmitted />}
      <p>
        {admitted ? 'Take in what another tablet saved, or a request to be admitted. ' : ''}Nothing is written before
        you have seen what would come in.
      </p>
      <FileButton
        label={busy ? 'Reading the file' : 'Open a file'}
        main={admitted}
        busy={busy}
        onFile={(file) => void open(file)}
      />
      <p>
        For another tablet: all <b class="n">{log.size}</b> entries here, as a file. To save only what one of them
        lacks, choose it in the list. Photos and logger files do not come along: they travel over the network.
      </p>
      <button type="button" class="button" aria-busy={busy} onClick={() => void save()}>
        Save a file
      </button>
      <p class="note">
        {log.head(device) === null
          ? 'This tablet has written nothing yet.'
          : 'A file is signed by this tablet; a changed byte in it is found when it is opened.'}
      </p>
    </div>
  );
}

const wordsOf = (fault: string): string => (wholeFile as Readonly<Record<string, string>>)[fault] ?? fault;

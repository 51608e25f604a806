import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { faultWords } from '../../../../shared/logbook/faults.ts';
import { doubtWords } from '../../../../shared/logbook/state/doubt-words.ts';
import type { EntriesFile } from '../../acts/open-file.ts';
import { type FilePreview, previewFile, takeIn } from '../../acts/take-in.ts';
import { Problem } from '../../app/problem.tsx';
import { openStore } from '../../app/tablet.ts';
import { dayAndTime } from '../../app/time.ts';
import { useSaving } from '../../app/use-saving.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { entryWords, kindName } from '../../shared-screens/entry-words.ts';
import { inGroups } from '../../shared-screens/fields/fingerprint.tsx';
import { faultLines } from '../../shared-screens/file-words.ts';

const MOST = 8;

/** A file before it is taken in: what would come, what it would change, what is wrong with it. */
export function TakeIn({ file, onDone }: { file: EntriesFile; onDone: (said?: string) => void }) {
  const preview = useSignal<FilePreview | null>(null);
  const failed = useSignal<string | null>(null);
  const progress = useSignal<{ done: number; of: number } | null>(null);
  const { busy, problem, run } = useSaving();
  useEffect(() => {
    previewFile(file).then(
      (made) => {
        if (made) preview.value = made;
        else failed.value = 'The file and this tablet together hold no plan.';
      },
      (error: unknown) => {
        failed.value = String(error);
      },
    );
  }, [file]);
  const shown = preview.value;
  const take = () =>
    run(async () => {
      const added = await takeIn(file, (done, of) => {
        progress.value = { done, of };
      });
      onDone(`${counted(added, 'entry', 'entries')} taken in.`);
      return true;
    });
  const words =
    shown === null
      ? 'Reading the file'
      : shown.count === 0
        ? 'Nothing new'
        : `Take in ${counted(shown.count, 'entry', 'entries')}`;
  return (
    <>
      <Sheet title={shown?.count === 0 ? 'Nothing to change' : 'What it would change'} graduated class="setup-side">
        <div class="setup-form">
          <div class="pad setup-panel" aria-live="polite">
            {failed.value && (
              <Problem title="It cannot be looked at" words={failed.value} safe="The log is as it was." />
            )}
            {shown && <Changes preview={shown} />}
            {problem && (
              <Problem
                title="Not all of it was taken in"
                words={problem}
                safe="What was stored stays. Take the file in again: nothing is doubled."
              />
            )}
            {busy && progress.value && (
              <p role="status">
                <span class="n">{progress.value.done}</span> of <span class="n">{progress.value.of}</span> looked at and
                stored
              </p>
            )}
          </div>
          <div class="setup-action buttons">
            <button type="button" class="button" onClick={() => onDone()}>
              {shown?.count === 0 ? 'Back' : 'Leave it'}
            </button>
            {shown && shown.count > 0 && (
              <button type="button" class="button main" aria-busy={busy} onClick={() => void take()}>
                {busy ? 'Taking in' : words}
              </button>
            )}
          </div>
        </div>
      </Sheet>
      <Sheet title="What would come in" aside={file.name} class="setup-list">
        {shown ? (
          <Coming file={file} preview={shown} />
        ) : (
          <p class="pad" role="status">
            {failed.value ? 'Nothing.' : 'Reading the file and working out what it would change.'}
          </p>
        )}
      </Sheet>
    </>
  );
}

const counted = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

/** What the entries name and a file of entries does not carry; empty where they name nothing. */
const apartWords = ({ apart: { photos, files } }: FilePreview): string =>
  [
    ...(photos > 0 ? [counted(photos, 'photo', 'photos')] : []),
    ...(files > 0 ? [counted(files, 'logger file', 'logger files')] : []),
  ].join(' and ');

function useNames(preview: FilePreview) {
  const { standing, genesis } = preview.after;
  return {
    tablet: (device: string): string => {
      const known = standing.tablets().find((t) => t.device === device);
      const own = device === openStore().device ? ', this tablet' : '';
      return `${known?.name ?? `a tablet not admitted (${inGroups(device).slice(0, 2).join(' ')} …)`}${own}`;
    },
    person: (id: string): string => standing.person(id)?.name ?? 'somebody not admitted',
    at: (time: string): string => dayAndTime(time, genesis.dayOne, genesis.timeZone),
  };
}

function Coming({ file, preview }: { file: EntriesFile; preview: FilePreview }) {
  const names = useNames(preview);
  const faults = faultLines(file.faults, names.tablet);
  return (
    <>
      {faults.length > 0 && (
        <div class="error" role="alert">
          <b>Part of the file does not fit</b>
          {faults.map((line) => (
            <p key={line}>{line}</p>
          ))}
          <p>The rest can be taken in. Ask for the file again.</p>
        </div>
      )}
      <dl class="pad facts">
        <dt>Saved by</dt>
        <dd>{names.tablet(file.savedBy)}</dd>
        <dt>New</dt>
        <dd>
          {counted(preview.count, 'entry', 'entries')}; {preview.known} of the file are here already
        </dd>
        {preview.period && (
          <>
            <dt>Written</dt>
            <dd>
              {names.at(preview.period[0])} to {names.at(preview.period[1])}
            </dd>
          </>
        )}
        {apartWords(preview) && (
          <>
            <dt>Not in the file</dt>
            <dd>{apartWords(preview)}: they come from the server, or stay on the tablet that took them</dd>
          </>
        )}
        {preview.people.length > 0 && (
          <>
            <dt>By</dt>
            <dd>{preview.people.map((p) => `${names.person(p.person)} ${p.count}`).join(', ')}</dd>
          </>
        )}
      </dl>
      {preview.tablets.length > 0 && (
        <section class="tablets-part">
          <h3>From</h3>
          <ul class="rows">
            {preview.tablets.map((t) => (
              <li key={t.device}>
                <span class="grow">
                  <b>{names.tablet(t.device)}</b>
                  <span class="second note">
                    {t.from === t.to ? `place ${t.from}` : `places ${t.from} to ${t.to}`} of its chain
                  </span>
                </span>
                <span class="n">{t.count}</span>
              </li>
            ))}
          </ul>
        </section>
      )}
      {preview.kinds.length > 0 && (
        <section class="tablets-part">
          <h3>Kinds</h3>
          <ul class="rows">
            {preview.kinds.map(({ kind, count }) => (
              <li key={kind}>
                <span class="grow">{kindName(kind)}</span>
                <span class="n">{count}</span>
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

function Changes({ preview }: { preview: FilePreview }) {
  const names = useNames(preview);
  const { after, doubts, released, arise, settle, uncounted, forks, ahead } = preview;
  const nameOf = (id: string) => `${id} ${after.plan.holds.find((h) => h.id === id)?.name ?? ''}`;
  const quiet = [doubts, released, arise, settle, uncounted, forks].every((list) => list.length === 0) && ahead === 0;
  if (preview.count === 0) return <p>Everything in this file is here already. Taking it in again changes nothing.</p>;
  return (
    <>
      {quiet && <p>No hold point changes, no finding arises, and every entry counts.</p>}
      {doubts.map(({ hold, doubts: why }) => (
        <section key={hold} class="tablets-change">
          <h3 class="setup-soon">{nameOf(hold)} would fall into doubt</h3>
          {why.slice(0, MOST).map((doubt) => (
            <p key={`${doubt.reason}${doubt.entry.hash}`}>{doubtWords(after, doubt)}</p>
          ))}
          {why.length > MOST && <p class="dim">and {why.length - MOST} more</p>}
        </section>
      ))}
      {forks.map(({ device, seq }) => (
        <section key={device} class="tablets-change">
          <h3 class="setup-out">A fork</h3>
          <p>
            {names.tablet(device)} wrote two different entries at place {seq}: it was copied or restored. Both branches
            are kept; neither counts until a keeper adopts it.
          </p>
        </section>
      ))}
      {uncounted.map(({ fault, count, example }) => (
        <section key={fault} class="tablets-change">
          <h3 class="setup-soon">{counted(count, 'entry counts', 'entries count')} as no evidence</h3>
          <p>{faultWords[fault]}</p>
          <p class="dim">
            {kindName(example.entry.kind)} by {names.person(example.entry.by)}, on {names.tablet(example.entry.device)},{' '}
            {entryWords(after, example)}
          </p>
        </section>
      ))}
      {ahead > 0 && (
        <p class="setup-soon">
          {counted(ahead, 'entry was', 'entries were')} written by a clock more than 10 minutes ahead of this tablet’s.
        </p>
      )}
      {released.length > 0 && <p>Released with it: {released.map(nameOf).join(', ')}.</p>}
      <Findings title="Findings that would arise" list={arise.map((f) => `${f.title}, operation ${f.operation}`)} />
      <Findings title="Findings settled or decided" list={settle.map((f) => `${f.title}, operation ${f.operation}`)} />
    </>
  );
}

function Findings({ title, list }: { title: string; list: readonly string[] }) {
  if (list.length === 0) return null;
  return (
    <section class="tablets-change">
      <h3>
        {title} <span class="n">{list.length}</span>
      </h3>
      {list.slice(0, MOST).map((line, i) => (
        <p key={`${i}${line}`}>{line}</p>
      ))}
      {list.length > MOST && <p class="dim">and {list.length - MOST} more</p>}
    </section>
  );
}

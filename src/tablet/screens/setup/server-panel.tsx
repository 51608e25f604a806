import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import { joinWithCode, leaveServer, serverAddress } from '../../acts/join-server.ts';
import { photosUnsent } from '../../app/carry-photos.ts';
import { syncNow } from '../../app/keep-in-sync.ts';
import { Problem } from '../../app/problem.tsx';
import { server, syncStatus } from '../../app/server-link.ts';
import { outbox } from '../../app/storage-state.ts';
import { openView } from '../../app/tablet.ts';
import { dayAndTime } from '../../app/time.ts';
import { useSaving } from '../../app/use-saving.ts';
import { CodeField, readCode } from '../../shared-screens/fields/code-field.tsx';
import { troubleWords } from '../../sync/trouble-words.ts';

/** How this tablet's entries travel by themselves: joined with a one-time code, what waits, what is wrong, and out again. */
export function ServerPanel({ onBack }: { onBack: () => void }) {
  return (
    <div class="pad setup-panel">
      {server.value ? <Joined /> : <NotJoined />}
      <button type="button" class="button" onClick={onBack}>
        Back
      </button>
    </div>
  );
}

function NotJoined() {
  return (
    <>
      <p>
        With a server in reach, entries travel between the tablets by themselves. Without one, or until then, a file
        does it.
      </p>
      <dl class="facts">
        <dt>Server</dt>
        <dd>{serverAddress()}</dd>
      </dl>
      <WithCode label="Join the server" />
    </>
  );
}

/** The code that whoever looks after the server has made there. */
function WithCode({ label }: { label: string }) {
  const code = useSignal('');
  const asked = useSignal(false);
  const field = useRef<HTMLDivElement>(null);
  const { busy, problem, run } = useSaving();
  const read = readCode(code.value);
  const join = () => {
    asked.value = true;
    if ('problem' in read) {
      field.current?.querySelector('input')?.focus();
      return;
    }
    void run(async () => {
      await joinWithCode(read.code);
      return true;
    });
  };
  return (
    <form
      class="setup-panel"
      onSubmit={(event) => {
        event.preventDefault();
        join();
      }}
    >
      <div ref={field}>
        <CodeField
          text={code.value}
          onText={(text) => {
            code.value = text;
          }}
          error={asked.value && 'problem' in read ? read.problem : undefined}
        />
      </div>
      {problem && <Problem title="It did not join" words={problem} safe="The log is as it was." />}
      <button type="submit" class="button main" aria-busy={busy}>
        {busy ? 'Asking the server' : label}
      </button>
    </form>
  );
}

function Joined() {
  const { genesis } = openView();
  const leaving = useSignal(false);
  const { count, since } = outbox.value;
  const status = syncStatus.value;
  const at = (time: string): string => dayAndTime(time, genesis.dayOne, genesis.timeZone);
  const mustJoin = status?.trouble && ['bad-token', 'no-token'].includes(status.trouble.why);
  return (
    <>
      {status?.trouble && <Trouble {...status.trouble} at={at} />}
      {mustJoin && <WithCode label="Join again" />}
      <Refused />
      <dl class="facts">
        <dt>Server</dt>
        <dd>{server.value?.address}</dd>
        <dt>Now</dt>
        <dd>
          <span role="status">{nowWords()}</span>
        </dd>
        <dt>Not there yet</dt>
        <dd>
          {count === 0
            ? 'nothing: all that was written here is there too'
            : `${entries(count)}${since ? `, the oldest of ${at(since)}` : ''}`}
        </dd>
        {photosUnsent.value !== null && (
          <>
            <dt>Photos and files</dt>
            <dd>
              {photosUnsent.value === 0 ? 'all that lie here are there too' : `${photosUnsent.value} not there yet`}
            </dd>
          </>
        )}
        <dt>Last contact</dt>
        <dd>{status?.contactAt ? at(status.contactAt) : 'none since the app was opened'}</dd>
        <dt>Last all carried</dt>
        <dd>{server.value?.carriedAt ? at(server.value.carriedAt) : 'not yet'}</dd>
      </dl>
      {!mustJoin && (
        <button type="button" class="button main" onClick={syncNow}>
          Sync now
        </button>
      )}
      {leaving.value ? (
        <>
          <p>
            Leave the server? Entries stay here and there; new ones then travel by file. To come back, the tablet needs
            a new code. If the tablet goes out of the hall for good, have its token revoked at the server too.
          </p>
          <div class="buttons">
            <button
              type="button"
              class="button"
              onClick={() => {
                leaving.value = false;
              }}
            >
              Stay
            </button>
            <button type="button" class="button" onClick={() => void leaveServer()}>
              Leave it
            </button>
          </div>
        </>
      ) : (
        <button
          type="button"
          class="button"
          onClick={() => {
            leaving.value = true;
          }}
        >
          Leave the server
        </button>
      )}
    </>
  );
}

const entries = (n: number): string => `${n} ${n === 1 ? 'entry' : 'entries'}`;

/** What goes on, in a few words; lists show the same. */
export function nowWords(): string {
  if (!server.value) return 'not joined: entries travel by file';
  const status = syncStatus.value;
  if (!status) return 'waits until the log is read';
  if (status.trouble)
    return status.trouble.why === 'no-answer' ? 'no answer; it tries again by itself' : 'it does not go through';
  if (status.toSend > 0) return `sending, ${status.toSend} to go`;
  if (status.toFetch > 0) return `fetching, ${status.toFetch} to go`;
  return 'in sync';
}

function Trouble({ why, since, at }: { why: string; since: string; at: (time: string) => string }) {
  const { what, help } = troubleWords(why);
  if (why === 'no-answer')
    return (
      <p>
        {what} Since {at(since)}. {help}
      </p>
    );
  return <Problem title={`Nothing is carried since ${at(since)}`} words={what} safe={help} code={why} />;
}

/** Chains that the server refuses, and those of which it gave something unsound: the others go on. */
function Refused() {
  const { standing } = openView();
  const nameOf = (device: string): string =>
    standing.tablets().find((t) => t.device === device)?.name ?? `a tablet not admitted (${device.slice(0, 8)})`;
  const { refused = [], unsound = [] } = syncStatus.value ?? {};
  return (
    <>
      {refused.map(({ device, why }) => (
        <Problem
          key={device}
          title={`The server refuses the entries of ${nameOf(device)}`}
          words={troubleWords(why).what}
          safe="They are safe here, the other tablets’ entries go on, and this is tried again now and then. Save a file of all entries, and tell whoever looks after the server."
          code={why}
        />
      ))}
      {unsound.map((device) => (
        <Problem
          key={device}
          title={`The server gave something unsound of ${device === '' ? 'a tablet' : nameOf(device)}`}
          words="What does not prove itself was left out; the rest was taken in. It is asked for again."
          safe="If this lasts, take that tablet’s entries in by file, and tell whoever looks after the server."
        />
      ))}
    </>
  );
}

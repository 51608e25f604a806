import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { castingIn, type FoundCasting } from '../../acts/join-casting.ts';
import { castingByCode } from '../../acts/join-server.ts';
import { openFile } from '../../acts/open-file.ts';
import { Problem } from '../../app/problem.tsx';
import { useSaving } from '../../app/use-saving.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { CodeField, readCode } from '../../shared-screens/fields/code-field.tsx';
import { TextField } from '../../shared-screens/fields/field.tsx';
import { Fingerprint } from '../../shared-screens/fields/fingerprint.tsx';
import { FileButton } from '../../shared-screens/file-button.tsx';
import { faultLines, wholeFile } from '../../shared-screens/file-words.ts';
import { Progress } from './progress.tsx';
import { StartFrame } from './start-frame.tsx';

/** Another tablet joins a casting, by a code from the server or by a file: its fingerprint compared with the sheet by the furnace, and a name. */
export function JoinPage() {
  const found = useSignal<FoundCasting | null>(null);
  const onFound = (casting: FoundCasting) => {
    found.value = casting;
  };
  return (
    <StartFrame
      name="Join"
      line="A casting that others have begun"
      note="by a code from the server, or by a file"
      work="start-ways"
    >
      {found.value ? (
        <Compare
          found={found.value}
          onOther={() => {
            found.value = null;
          }}
        />
      ) : (
        <>
          <ByCode onFound={onFound} />
          <ByFile onFound={onFound} />
        </>
      )}
      <Sheet title="How a tablet joins" class={found.value ? '' : 'start-wide'}>
        <ol class="pad start-steps">
          <li>
            It finds the casting by a code or a file, and its fingerprint is compared with the sheet beside the furnace.
          </li>
          <li>It makes a key of its own; each person who signs here makes one too, under a PIN for this tablet.</li>
          <li>
            It asks to be admitted. A keeper of the roster looks at that on an admitted tablet and admits this one.
          </li>
          <li>Until then what is recorded here is kept and counts as no evidence.</li>
        </ol>
        <p class="pad">
          <a class="button" href="/start">
            Back
          </a>
        </p>
      </Sheet>
    </StartFrame>
  );
}

type WayProps = { onFound: (found: FoundCasting) => void };

/** The server has the casting: whoever looks after it makes a code for this tablet. */
function ByCode({ onFound }: WayProps) {
  const code = useSignal('');
  const asked = useSignal(false);
  const field = useRef<HTMLDivElement>(null);
  const { busy, problem, run } = useSaving();
  const read = readCode(code.value);
  const join = () => {
    asked.value = true;
    if ('problem' in read) return field.current?.querySelector('input')?.focus();
    void run(async () => {
      onFound(await castingByCode(read.code));
      return true;
    });
  };
  return (
    <Sheet title="A code from the server" graduated>
      <form
        class="pad start-way"
        onSubmit={(event) => {
          event.preventDefault();
          join();
        }}
      >
        <p>Where the hall has a server with the casting: whoever looks after it makes a one-time code.</p>
        <div ref={field}>
          <CodeField
            text={code.value}
            onText={(text) => {
              code.value = text;
            }}
            error={asked.value && 'problem' in read ? read.problem : undefined}
          />
        </div>
        {problem && (
          <Problem title="No casting was opened" words={problem} safe="Nothing on this tablet was touched." />
        )}
        <button type="submit" class="button main" aria-busy={busy}>
          {busy ? 'Asking the server' : 'Find the casting'}
        </button>
      </form>
    </Sheet>
  );
}

function ByFile({ onFound }: WayProps) {
  const { busy, problem, run } = useSaving();
  const open = (chosen: File) =>
    run(async () => {
      const opened = await openFile(chosen);
      if (opened.is !== 'entries')
        throw new Error(opened.is === 'nothing' ? `${opened.name}: ${wordsOf(opened.fault)}` : 'This is a request.');
      onFound(castingIn(opened));
      return true;
    });
  return (
    <Sheet title="A file of the casting">
      <div class="pad start-way">
        <p>
          On a tablet of the casting: Setup, Tablets, <b>Save a file</b>. Carry the file here, on a memory stick or by
          whatever way there is, and open it.
        </p>
        <p class="dim">Either way nothing is written before you have compared the casting’s fingerprint.</p>
        {problem && (
          <Problem title="This file opens no casting" words={problem} safe="Nothing on this tablet was touched." />
        )}
        <FileButton
          label={busy ? 'Reading the file' : 'Open a file'}
          busy={busy}
          onFile={(chosen) => void open(chosen)}
        />
      </div>
    </Sheet>
  );
}

const wordsOf = (fault: string): string => (wholeFile as Readonly<Record<string, string>>)[fault] ?? fault;

function Compare({ found, onOther }: { found: FoundCasting; onOther: () => void }) {
  const { route } = useLocation();
  const name = useSignal('');
  const asked = useSignal(false);
  const progress = useSignal<{ done: number; of: number } | null>(null);
  const { busy, problem, run } = useSaving();
  const { casting, genesis, faults } = found;
  const missing = name.value.trim() === '';
  const join = () => {
    asked.value = true;
    if (missing) {
      document.getElementById('join-name')?.focus();
      return;
    }
    void run(async () => {
      await found.join(name.value.trim(), (done, of) => {
        progress.value = { done, of };
      });
      route('/setup?part=tablets');
      return true;
    });
  };
  return (
    <Sheet title="Compare the fingerprint" graduated>
      <div class="pad start-way">
        <Fingerprint casting={casting} />
        <p>
          <b>{genesis.name}</b>, day 1 was {genesis.dayOne}, begun by {genesis.founder.name}. Compare all eight groups
          with the sheet pinned up beside the furnace. Where one differs, it is another casting: do not join.
        </p>
        {faults.length > 0 && (
          <div class="error" role="alert">
            <b>Part of the file does not fit</b>
            {faultLines(faults, (device) => `tablet ${device.slice(0, 8)}`).map((line) => (
              <p key={line}>{line}</p>
            ))}
          </div>
        )}
        <TextField
          id="join-name"
          label="Name of this tablet, as it is written on its back"
          text={name.value}
          onText={(text) => {
            name.value = text;
          }}
          error={asked.value && missing ? 'A name is missing.' : undefined}
        />
        {problem && <Problem title="It did not join" words={problem} safe="Try again: nothing is doubled." />}
        {busy && progress.value && <Progress {...progress.value} doing="The casting is being written" />}
        <div class="buttons">
          <button type="button" class="button" onClick={onOther}>
            They differ
          </button>
          <button type="button" class={`button main ${missing ? 'missing' : ''}`} aria-busy={busy} onClick={join}>
            {busy ? 'Joining' : missing ? 'Join: the name is missing' : 'All eight are the same: join'}
          </button>
        </div>
      </div>
    </Sheet>
  );
}

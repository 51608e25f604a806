import { useSignal } from '@preact/signals';
import { useLocation } from 'preact-iso';
import { genesisIn, isHere, joinCasting } from '../../acts/join-casting.ts';
import { type EntriesFile, openFile } from '../../acts/open-file.ts';
import { Problem } from '../../app/problem.tsx';
import { useSaving } from '../../app/use-saving.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { TextField } from '../../shared-screens/fields/field.tsx';
import { Fingerprint } from '../../shared-screens/fields/fingerprint.tsx';
import { FileButton } from '../../shared-screens/file-button.tsx';
import { faultLines, wholeFile } from '../../shared-screens/file-words.ts';
import { Progress } from './progress.tsx';
import { StartFrame } from './start-frame.tsx';

/** Another tablet joins a casting: a file of it, its fingerprint compared with the sheet by the furnace, and a name. */
export function JoinPage() {
  const file = useSignal<EntriesFile | null>(null);
  const { busy, problem, run } = useSaving();
  const open = (chosen: File) =>
    run(async () => {
      file.value = null;
      const opened = await openFile(chosen);
      if (opened.is !== 'entries')
        throw new Error(opened.is === 'nothing' ? `${opened.name}: ${wordsOf(opened.fault)}` : 'This is a request.');
      if (isHere(opened)) throw new Error('This casting is on this tablet already. Setup, Castings opens it.');
      if (!genesisIn(opened))
        throw new Error('The file does not begin at the first entry: ask for a file with all entries of the casting.');
      file.value = opened;
      return true;
    });
  return (
    <StartFrame name="Join" line="A casting that others have begun" note="by a file" work="start-ways">
      {file.value ? (
        <Compare
          file={file.value}
          onOther={() => {
            file.value = null;
          }}
        />
      ) : (
        <Sheet title="A file of the casting" graduated>
          <div class="pad start-way">
            <p>
              On a tablet of the casting: Setup, Tablets, <b>Save a file</b>. Carry the file here, on a memory stick or
              by whatever way there is, and open it.
            </p>
            <p class="dim">Nothing is written before you have compared the casting’s fingerprint.</p>
            {problem && (
              <Problem title="This file opens no casting" words={problem} safe="Nothing on this tablet was touched." />
            )}
            <FileButton
              label={busy ? 'Reading the file' : 'Open a file'}
              main
              busy={busy}
              onFile={(chosen) => void open(chosen)}
            />
          </div>
        </Sheet>
      )}
      <Sheet title="How a tablet joins">
        <ol class="pad start-steps">
          <li>It opens a file of the casting, and its fingerprint is compared with the sheet beside the furnace.</li>
          <li>It makes a key of its own; each person who signs here makes one too, under a PIN for this tablet.</li>
          <li>It saves a request. A keeper of the roster opens it on an admitted tablet and admits this one.</li>
          <li>It takes in the file that the keeper saves. Until then what is recorded here counts as no evidence.</li>
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

const wordsOf = (fault: string): string => (wholeFile as Readonly<Record<string, string>>)[fault] ?? fault;

function Compare({ file, onOther }: { file: EntriesFile; onOther: () => void }) {
  const { route } = useLocation();
  const name = useSignal('');
  const asked = useSignal(false);
  const progress = useSignal<{ done: number; of: number } | null>(null);
  const { busy, problem, run } = useSaving();
  const genesis = genesisIn(file)!;
  const missing = name.value.trim() === '';
  const join = () => {
    asked.value = true;
    if (missing) {
      document.getElementById('join-name')?.focus();
      return;
    }
    void run(async () => {
      await joinCasting(file, name.value.trim(), (done, of) => {
        progress.value = { done, of };
      });
      route('/setup?part=tablets');
      return true;
    });
  };
  return (
    <Sheet title="Compare the fingerprint" graduated>
      <div class="pad start-way">
        <Fingerprint casting={file.casting} />
        <p>
          <b>{genesis.name}</b>, day 1 was {genesis.dayOne}, begun by {genesis.founder.name}. Compare all eight groups
          with the sheet pinned up beside the furnace. Where one differs, it is another casting: do not join.
        </p>
        {file.faults.length > 0 && (
          <div class="error" role="alert">
            <b>Part of the file does not fit</b>
            {faultLines(file.faults, (device) => `tablet ${device.slice(0, 8)}`).map((line) => (
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

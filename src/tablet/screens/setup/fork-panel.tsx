import { useSignal } from '@preact/signals';
import { type Branch, branchesOf } from '../../../../shared/logbook/state/branches.ts';
import { adopt } from '../../acts/roster.ts';
import { Problem } from '../../app/problem.tsx';
import { openView } from '../../app/tablet.ts';
import { dayAndTime } from '../../app/time.ts';
import { useSaving } from '../../app/use-saving.ts';
import { entryWords, kindName } from '../../shared-screens/entry-words.ts';
import { TextField } from '../../shared-screens/fields/field.tsx';
import { KeepersOnly } from './keepers-only.tsx';

/** The branches of a forked chain; a keeper adopts one, or each, with a reason. */
export function ForkPanel({ device, onDone }: { device: string; onDone: (said: string) => void }) {
  const reason = useSignal('');
  const asked = useSignal(false);
  const { busy, problem, run } = useSaving();
  const view = openView();
  const seq = view.log.forkOf(device);
  const missing = reason.value.trim() === '';
  const go = async (branch: Branch) => {
    asked.value = true;
    if (missing) return document.getElementById('adopt-reason')?.focus();
    if (await run(() => adopt(device, branch.tip.hash, reason.value.trim())))
      onDone(`The branch of ${branch.entries.length} is adopted: it counts as evidence.`);
  };
  return (
    <section class="setup-panel tablets-fork">
      <h3 class="setup-out">Written twice from place {seq} on</h3>
      <p>
        The tablet was copied, or restored from a backup, and both went on writing. What both have in common stands.
        What comes after is kept and counts as no evidence until a keeper adopts it; nobody can sign a hold point before
        that.
      </p>
      <KeepersOnly what="adopts a branch">
        <TextField
          id="adopt-reason"
          label="Reason"
          text={reason.value}
          onText={(text) => {
            reason.value = text;
          }}
          error={asked.value && missing ? 'A reason is missing.' : undefined}
        />
      </KeepersOnly>
      {problem && <Problem title="Nothing was adopted" words={problem} safe="Both branches are as they were." />}
      {branchesOf(view, device).map((branch, i) => (
        <BranchWords key={branch.tip.hash} branch={branch} number={i + 1} busy={busy} onAdopt={() => void go(branch)} />
      ))}
    </section>
  );
}

type BranchProps = { branch: Branch; number: number; busy: boolean; onAdopt: () => void };

function BranchWords({ branch: { entries, adopted }, number, busy, onAdopt }: BranchProps) {
  const view = openView();
  const { dayOne, timeZone } = view.genesis;
  const at = (time: string) => dayAndTime(time, dayOne, timeZone);
  const all = adopted === entries.length;
  return (
    <div class="tablets-branch">
      <p>
        <b>Branch {number}</b>, {entries.length} {entries.length === 1 ? 'entry' : 'entries'},{' '}
        {at(entries[0]!.entry.recordedAt)} to {at(entries.at(-1)!.entry.recordedAt)}
      </p>
      <ul class="rows">
        {entries.slice(0, 3).map((kept) => (
          <li key={kept.hash}>
            <a class="row" href={`/record/${kept.hash}`}>
              <span class="grow">
                <b>{kindName(kept.entry.kind)}</b> {entryWords(view, kept)}
                <span class="second note">{view.standing.person(kept.entry.by)?.name ?? 'somebody not admitted'}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
      {all ? (
        <p class="small dim">Adopted: it counts as evidence.</p>
      ) : (
        <button type="button" class="button wide" aria-busy={busy} onClick={onAdopt}>
          {adopted > 0 ? `Adopt the rest of branch ${number}` : `Adopt branch ${number}`}
        </button>
      )}
    </div>
  );
}

import { useState } from 'preact/hooks';
import type { Role } from '../../../../shared/logbook/kinds.ts';
import type { Person } from '../../../../shared/logbook/standing.ts';
import type { HoldState } from '../../../../shared/logbook/state/holds.ts';
import { setLimitsOf } from '../../../../shared/logbook/state/limit-setters.ts';
import { isIndependent } from '../../../../shared/logbook/state/signatures.ts';
import { signingObstacles } from '../../../../shared/logbook/state/signing-obstacles.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { refuse, release } from '../../acts/sign.ts';
import { syncStatus } from '../../app/server-link.ts';
import { person } from '../../app/session.ts';
import { openStore } from '../../app/tablet.ts';
import { dayAndTime, now } from '../../app/time.ts';
import { useDraft } from '../../app/use-draft.ts';
import { wasKept } from '../../app/was-kept.ts';
import { roleName } from '../../app/words.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Overlay } from '../../parts/overlay.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { knowledgeWordsNow } from '../../shared-screens/knowledge-words.ts';

/** The places for signatures, and the two things that a person can do here: sign, or refuse with a reason. */
export function Signing({ view, state }: { view: View; state: HoldState }) {
  const [doing, setDoing] = useState<'sign' | 'refuse' | null>(null);
  const { hold, status, missing } = state;
  return (
    <>
      <Sheet title="Signatures" aside="different persons, one who did not measure" class="hold-sign">
        <ul class="rows hold-places">
          {hold.roles.map((role) => (
            <Place key={role} view={view} state={state} role={role} />
          ))}
        </ul>
      </Sheet>
      {status !== 'released' && (
        <Sheet label="Sign or refuse" class="hold-bar">
          <div class="buttons">
            <button type="button" class="button" onClick={() => setDoing('refuse')}>
              Refuse, with reason
            </button>
            {missing.length > 0 ? (
              <button type="button" class="button missing" onClick={() => toFirstMissing()}>
                Sign: {missing.length === 1 ? '1 thing' : `${missing.length} things`} missing
              </button>
            ) : (
              <button type="button" class="button main" onClick={() => setDoing('sign')}>
                {status === 'in-doubt' ? 'Sign again' : 'Sign'}
              </button>
            )}
          </div>
        </Sheet>
      )}
      {doing && <SignForm view={view} state={state} doing={doing} onClose={() => setDoing(null)} />}
    </>
  );
}

/** The sign button is never grey: it goes to the first thing that is missing. */
function toFirstMissing(): void {
  const list = document.getElementById('missing');
  const first = list?.querySelector<HTMLElement>('li:not(.refused) :is(a, button)') ?? list;
  first?.scrollIntoView({ block: 'center' });
  first?.focus();
}

function Place({ view, state, role }: { view: View; state: HoldState; role: string }) {
  const signed = state.signatures.find((s) => s.release.body.role === role);
  const earlier = state.stale.find(
    ({ release: { body }, doubts }) => body.role === role && body.plan !== view.planHash && doubts.length === 0,
  );
  const who = view.standing.people().filter((p) => p.roles.includes(role as Role) && !p.retired);
  return (
    <li>
      <span class="grow">
        <b>{roleName(role)}</b>
        <span class="small dim hold-words">
          {signed
            ? `${signed.release.body.name}, ${dayAndTime(signed.release.entry.recordedAt, view.genesis.dayOne, view.genesis.timeZone)}`
            : who.map((p) => p.name).join(', ') || 'nobody is admitted in this role'}
          {!signed && earlier && (
            <>
              . {earlier.release.body.name} signed under plan revision{' '}
              {view.plans.get(earlier.release.body.plan)?.revision}; revision {view.plan.revision} wants it signed again
            </>
          )}
        </span>
      </span>
      <span class={`hold-line ${signed ? 'signed' : ''}`}>{signed ? 'signed' : 'not yet'}</span>
    </li>
  );
}

/** Nobody signs from half of what the server has, while the other half is on its way. */
function comingWords(): string[] {
  const { toFetch, trouble } = syncStatus.value ?? { toFetch: 0, trouble: null };
  if (toFetch === 0 || trouble !== null) return [];
  return [`Entries of other tablets are coming in, ${toFetch} to go: sign when they are here and you have seen them.`];
}

interface Candidate {
  readonly person: Person;
  readonly role: Role;
}

/** Every person with a role that the hold point asks for and that is not signed yet. */
function candidates(view: View, state: HoldState, doing: 'sign' | 'refuse'): Candidate[] {
  const roles = (doing === 'sign' ? state.rolesOpen : state.hold.roles) as Role[];
  return roles.flatMap((role) =>
    view.standing
      .people()
      .filter((p) => !p.retired && p.roles.includes(role))
      .map((p) => ({ person: p, role })),
  );
}

const nameOf = ({ person: p, role }: Candidate): string => `${p.id}/${role}`;

const empty = { chosen: '', reason: '' };

function SignForm({
  view,
  state,
  doing,
  onClose,
}: {
  view: View;
  state: HoldState;
  doing: 'sign' | 'refuse';
  onClose: () => void;
}) {
  const all = candidates(view, state, doing);
  const draft = useDraft(`hold/${state.hold.id}/${doing}`, empty);
  const { reason } = draft.value;
  const own = all.find((c) => c.person.id === person.value?.id);
  const who = all.find((c) => nameOf(c) === draft.value.chosen) ?? own;
  const [obstacles, setObstacles] = useState<readonly string[]>([]);

  const end = async (saving: Promise<boolean>) => {
    if (!(await wasKept(saving))) return;
    void draft.clear();
    onClose();
  };
  const go = () => {
    if (!who) return setObstacles([doing === 'sign' ? 'Choose who signs.' : 'Choose who refuses.']);
    if (doing === 'refuse') {
      if (reason.trim() === '') return setObstacles(['A refusal needs its reason.']);
      return end(refuse(state, who.person.id, who.role, reason.trim()));
    }
    const words = [...comingWords(), ...signingObstacles(view, state, who.person.id, who.role)];
    setObstacles(words);
    if (words.length === 0) return end(release(state, who.person.id, who.role));
  };
  // What was typed stays; who signs is asked anew, since another may open this next.
  const cancel = () => {
    draft.change({ chosen: '' });
    onClose();
  };

  const verb = doing === 'sign' ? 'Sign' : 'Refuse';
  return (
    <Overlay title={`${verb} ${state.hold.id}, ${state.hold.name}`} onClose={cancel} closeLabel="Cancel">
      {doing === 'sign' && (
        <p class="hold-meaning">
          {view.plan.signatureMeaning} <b>{state.hold.meaning}</b>{' '}
          <span class="hold-known">It is signed {knowledgeWordsNow(view, openStore().device, now.value)}.</span>
        </p>
      )}
      {all.length === 0 ? (
        <p>Nobody with the roles that are still open is admitted on this roster. A keeper admits people in Setup.</p>
      ) : (
        <ChoiceList
          legend={doing === 'sign' ? 'Who signs' : 'Who refuses'}
          choices={all.map((c) => ({
            value: nameOf(c),
            label: `${c.person.name}, ${roleName(c.role)}`,
            detail: setLimitsOf(view, state.hold, c.person.id)
              ? 'set limits of this hold point in a plan revision'
              : isIndependent(view, state.hold, c.person.id, state.evidence)
                ? 'took no measurement in this evidence'
                : 'measured or recorded some of this evidence',
          }))}
          value={who ? nameOf(who) : null}
          onChoice={(chosen) => draft.change({ chosen })}
        />
      )}
      {doing === 'refuse' && (
        <label class="labelled">
          <span>Reason</span>
          <textarea
            class="input"
            maxLength={2000}
            value={reason}
            onInput={(e) => draft.change({ reason: e.currentTarget.value })}
          />
        </label>
      )}
      <div class="outside" role="status">
        {obstacles.map((words) => (
          <p key={words}>{words}</p>
        ))}
      </div>
      {all.length > 0 && (
        <div class="buttons">
          <button type="button" class="button main" onClick={() => void go()}>
            {doing === 'sign' ? `Sign with PIN, ${state.evidence.length} entries seen` : 'Refuse with PIN'}
          </button>
        </div>
      )}
    </Overlay>
  );
}

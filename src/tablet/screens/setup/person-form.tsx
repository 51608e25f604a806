import { useSignal } from '@preact/signals';
import type { Role } from '../../../../shared/logbook/kinds.ts';
import type { Person } from '../../../../shared/logbook/standing.ts';
import { changeRoles, newPin } from '../../acts/roster.ts';
import { Problem } from '../../app/problem.tsx';
import { openStore, openView } from '../../app/tablet.ts';
import { useSaving } from '../../app/use-saving.ts';
import { ChoosePin } from '../../shared-screens/fields/choose-pin.tsx';
import { RoleBoxes } from '../../shared-screens/fields/role-boxes.tsx';
import { crew, isKeeper } from './keepers-only.tsx';
import { RetireForm, type RetireFormProps } from './retire-form.tsx';

/** Changes a person's roles, or vouches for a new PIN. Both are signed lines of the log. */
export function PersonForm({ person, onDone }: { person: Person; onDone: (said?: string) => void }) {
  const roles = useSignal<readonly Role[]>(person.roles);
  const choosing = useSignal(false);
  const { busy, problem, run } = useSaving();
  const changed = roles.value.length !== person.roles.length || roles.value.some((r) => !person.roles.includes(r));
  const onlyKeeper = isKeeper(person) && crew().filter(isKeeper).length === 1;
  const hasKey = openView().standing.keysOf(person.id, openStore().device).length > 0;
  const keepRoles = async () => {
    if (!changed) return onDone();
    if (await run(() => changeRoles(person.id, person.name, roles.value))) onDone(`${person.name} has new roles.`);
  };
  const keepPin = async (pin: string) => {
    choosing.value = false;
    if (await run(() => newPin(person.id, person.name, pin))) onDone(`${person.name} has a new PIN on this tablet.`);
  };
  return (
    <div class="setup-form">
      <RoleBoxes
        legend="Roles"
        roles={roles.value}
        onRoles={(chosen) => {
          roles.value = onlyKeeper ? [...chosen.filter((r) => r !== 'keeper'), 'keeper'] : chosen;
        }}
        fixed={
          onlyKeeper ? { role: 'keeper', why: 'the only one. Admit another keeper before this one goes.' } : undefined
        }
      />
      {problem && <Problem title="Nothing was changed" words={problem} safe="The roster is as it was. Try again." />}
      <div class="pad setup-panel">
        <p class="note">
          {hasKey
            ? 'A new PIN makes a new key; the old one opens nothing from then on. What was signed with it stands.'
            : `${person.name} has no key on this tablet yet, and signs nothing here without one.`}
        </p>
        <button
          type="button"
          class="button"
          onClick={() => {
            choosing.value = true;
          }}
        >
          {hasKey ? 'New PIN' : 'PIN for this tablet'}
        </button>
        <RetireButtons person={person} onlyKeeper={onlyKeeper} onDone={onDone} />
      </div>
      <div class="setup-action buttons">
        <button type="button" class="button" onClick={() => onDone()}>
          Back
        </button>
        <button type="button" class="button main" aria-busy={busy} onClick={() => void keepRoles()}>
          {busy ? 'Signing' : changed ? 'Sign the new roles' : 'Leave as it is'}
        </button>
      </div>
      {choosing.value && (
        <ChoosePin
          who={person.name}
          onPin={(pin) => void keepPin(pin)}
          onClose={() => {
            choosing.value = false;
          }}
        />
      )}
    </div>
  );
}

type RetireButtonsProps = { person: Person; onlyKeeper: boolean; onDone: (said: string) => void };

/** Retires the person, or one of their keys. The only keeper stays. */
function RetireButtons({ person, onlyKeeper, onDone }: RetireButtonsProps) {
  const retiring = useSignal<Pick<RetireFormProps, 'what' | 'name'> | null>(null);
  const { standing } = openView();
  const keys = standing
    .tablets()
    .flatMap((t) => standing.keysOf(person.id, t.device).map((key) => ({ key, tablet: t.name })));
  return (
    <>
      {keys.map(({ key, tablet }) => (
        <button
          key={key}
          type="button"
          class="button"
          onClick={() => {
            retiring.value = { what: { key }, name: `the key of ${person.name} on ${tablet}` };
          }}
        >
          Retire the key on {tablet}
        </button>
      ))}
      {onlyKeeper ? (
        <p class="note">The only keeper of the roster cannot be retired: admit another first.</p>
      ) : (
        <button
          type="button"
          class="button"
          onClick={() => {
            retiring.value = { what: { person: person.id }, name: person.name };
          }}
        >
          Retire {person.name}
        </button>
      )}
      {retiring.value && (
        <RetireForm
          {...retiring.value}
          onClose={() => {
            retiring.value = null;
          }}
          onDone={onDone}
        />
      )}
    </>
  );
}

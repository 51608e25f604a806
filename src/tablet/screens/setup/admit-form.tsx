import { useSignal } from '@preact/signals';
import type { Role } from '../../../../shared/logbook/kinds.ts';
import { admitPerson } from '../../acts/roster.ts';
import { Problem } from '../../app/problem.tsx';
import { useDraft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { ChoosePin, PIN_WORDS } from '../../shared-screens/fields/choose-pin.tsx';
import { enterMovesOn, TextField } from '../../shared-screens/fields/field.tsx';
import { RoleBoxes } from '../../shared-screens/fields/role-boxes.tsx';
import { crew } from './keepers-only.tsx';

const empty: { name: string; roles: readonly Role[] } = { name: '', roles: [] };

/** Admits a person: name and roles, then they type a PIN of their own, then the keeper signs. */
export function AdmitForm({ onDone }: { onDone: (said?: string) => void }) {
  const draft = useDraft('setup/admit', empty);
  const asked = useSignal(false);
  const choosing = useSignal(false);
  const { busy, problem, run } = useSaving();
  if (!draft.ready) return null;
  const { name, roles } = draft.value;
  const trimmed = name.trim();
  const twice = crew().some((p) => p.name === trimmed);
  const error =
    trimmed === ''
      ? 'A name is missing.'
      : twice
        ? `There is a ${trimmed} already: add what tells the two apart.`
        : undefined;
  const admit = async (pin: string) => {
    choosing.value = false;
    const kept = await run(async () => (await admitPerson(trimmed, roles, pin)) !== null);
    if (!kept) return;
    await draft.clear();
    onDone(`${trimmed} is admitted.`);
  };
  const go = () => {
    asked.value = true;
    if (!error) choosing.value = true;
    else document.getElementById('admit-name')?.focus();
  };
  return (
    <>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: Enter in any of the fields moves on; the fields are the controls */}
      <div class="setup-form" onKeyDown={enterMovesOn}>
        <div class="pad">
          <TextField
            id="admit-name"
            label="Name, as it is printed under a signature"
            text={name}
            onText={(text) => draft.change({ name: text })}
            error={asked.value ? error : undefined}
          />
        </div>
        <RoleBoxes legend="Roles" roles={roles} onRoles={(chosen) => draft.change({ roles: chosen })} />
        {problem && <Problem title="Nobody was admitted" words={problem} safe="What you typed is kept. Try again." />}
        <div class="pad setup-panel">
          <p class="note">
            {roles.length === 0 ? 'Without a role they can record, and sign nothing. ' : ''}
            {PIN_WORDS} They type it themselves; then you sign with yours.
          </p>
        </div>
        <div class="setup-action buttons">
          <button type="button" class="button" onClick={() => onDone()}>
            Back
          </button>
          <button type="button" class={`button main ${error ? 'missing' : ''}`} aria-busy={busy} onClick={go}>
            {busy ? 'Making the key' : error ? 'Admit: the name is missing' : `${firstName(trimmed)} types a PIN`}
          </button>
        </div>
      </div>
      {choosing.value && (
        <ChoosePin
          who={trimmed}
          onPin={(pin) => void admit(pin)}
          onClose={() => {
            choosing.value = false;
          }}
        />
      )}
    </>
  );
}

const firstName = (name: string): string => (name.length > 16 ? (name.split(' ')[0] ?? name) : name);

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { keysToVouchFor, makeKeyHere, nameOfThisTablet, saveRequest, sendRequest } from '../../acts/join-casting.ts';
import { Problem } from '../../app/problem.tsx';
import { server } from '../../app/server-link.ts';
import { openStore } from '../../app/tablet.ts';
import { useSaving } from '../../app/use-saving.ts';
import { someone } from '../../app/who.ts';
import { ChoosePin } from '../../shared-screens/fields/choose-pin.tsx';
import { SelectField, TextField } from '../../shared-screens/fields/field.tsx';
import { inGroups } from '../../shared-screens/fields/fingerprint.tsx';
import { crew } from './keepers-only.tsx';
import { Said } from './said.tsx';

/** What a tablet that no keeper has admitted asks for: its name, its people's keys, and the request: through the server, or as a file. */
export function NotAdmitted() {
  const name = useSignal('');
  const person = useSignal('');
  const withKeys = useSignal<readonly string[]>([]);
  const choosing = useSignal(false);
  const saved = useSignal<string | undefined>(undefined);
  const asked = useSignal(false);
  const { busy, problem, run } = useSaving();
  const readKeys = async () => {
    withKeys.value = (await keysToVouchFor()).map((k) => k.person);
  };
  useEffect(() => {
    void nameOfThisTablet().then((known) => {
      name.value = known;
    });
    void readKeys();
  }, []);
  const people = crew();
  const named = people.filter((p) => withKeys.value.includes(p.id)).map((p) => p.name);
  const chosen = people.find((p) => p.id === person.value);
  const makeKey = async (pin: string) => {
    choosing.value = false;
    await run(async () => {
      await makeKeyHere(person.value, pin);
      await readKeys();
      return true;
    });
  };
  const send = () => {
    asked.value = true;
    if (name.value.trim() === '') return;
    void run(async () => {
      if (!(await someone())) return false;
      await sendRequest(name.value.trim());
      saved.value =
        'Asked. With the next sync it stands on the admitted tablets, in Setup, Tablets: a keeper compares this tablet’s id there and admits it. It counts as soon as that has come back.';
      return true;
    });
  };
  const save = () => {
    asked.value = true;
    if (name.value.trim() === '') return;
    void run(async () => {
      saved.value = `Saved as ${await saveRequest(name.value.trim())}. A keeper opens it on an admitted tablet, in Setup, Tablets; then open here the file that the keeper saves.`;
      return true;
    });
  };
  return (
    <>
      <p>
        <b>Until a keeper admits it, what is recorded here is kept and counts as no evidence.</b> Nothing is lost: it
        counts from the moment it is admitted.
      </p>
      <dl class="facts">
        <dt>This tablet</dt>
        <dd class="n setup-id">{inGroups(openStore().device).join(' ')}</dd>
        <dt>Keys made here</dt>
        <dd>{named.join(', ') || 'none: nobody can sign here yet'}</dd>
      </dl>
      <TextField
        label="Name of this tablet"
        text={name.value}
        onText={(text) => {
          name.value = text;
        }}
        error={asked.value && name.value.trim() === '' ? 'A name is missing.' : undefined}
      />
      <SelectField
        label="Who else will sign on this tablet"
        text={person.value}
        onText={(id) => {
          person.value = id;
        }}
        choices={[
          { value: '', label: 'Choose a person' },
          ...people.map((p) => ({
            value: p.id,
            label: withKeys.value.includes(p.id) ? `${p.name}, has a key: make another` : p.name,
          })),
        ]}
        note="Each chooses a PIN for this tablet. The key never leaves it; a keeper vouches for it."
      />
      <button
        type="button"
        class={`button ${chosen ? '' : 'missing'}`}
        onClick={() => {
          choosing.value = chosen !== undefined;
        }}
      >
        {chosen ? `${chosen.name} types a PIN` : 'Make a key: choose who first'}
      </button>
      {problem && <Problem title="That was not done" words={problem} safe="Nothing was lost. Try again." />}
      <Said words={saved.value} />
      {server.value && (
        <button type="button" class="button main" aria-busy={busy} onClick={send}>
          Ask through the server
        </button>
      )}
      <button type="button" class={`button ${server.value ? '' : 'main'}`} aria-busy={busy} onClick={save}>
        {busy ? 'Making the key' : 'Save the request'}
      </button>
      {choosing.value && chosen && (
        <ChoosePin
          who={chosen.name}
          onPin={(pin) => void makeKey(pin)}
          onClose={() => {
            choosing.value = false;
          }}
        />
      )}
    </>
  );
}

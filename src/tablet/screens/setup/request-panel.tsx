import { useSignal } from '@preact/signals';
import { deviceOfRequest, type JoinRequest } from '../../../../shared/sync/join-request.ts';
import { admitTablet } from '../../acts/roster.ts';
import { saveFile } from '../../acts/save-file.ts';
import { Problem } from '../../app/problem.tsx';
import { server } from '../../app/server-link.ts';
import { openView } from '../../app/tablet.ts';
import { useSaving } from '../../app/use-saving.ts';
import { Fingerprint } from '../../shared-screens/fields/fingerprint.tsx';
import { KeepersOnly } from './keepers-only.tsx';

/** A keeper looks at what a tablet asks for, admits it, and saves the file that it takes back in. */
export function RequestPanel({ request, onDone }: { request: JoinRequest; onDone: (said?: string) => void }) {
  const admitted = useSignal(false);
  const { busy, problem, run } = useSaving();
  const { standing } = openView();
  const device = deviceOfRequest(request);
  const known = request.people.map(({ person }) => standing.person(person));
  const names = known.flatMap((p) => (p ? [p.name] : []));
  const twice = standing.tablets().some((t) => t.device !== device && t.name === request.name);
  const admit = () =>
    run(async () => {
      admitted.value = await admitTablet(request);
      return admitted.value;
    });
  const save = () =>
    run(async () => {
      const { name, entries } = await saveFile();
      onDone(`Saved ${entries} entries as ${name}. ${request.name} counts as soon as it has taken the file in.`);
      return true;
    });
  return (
    <KeepersOnly what="admits tablets">
      <div class="pad setup-panel">
        <p>
          <b>{request.name}</b> asks to be admitted. Compare with its screen: the same eight groups stand there, or it
          is another tablet.
        </p>
        <Fingerprint casting={device} />
        <p>
          {names.length === 0
            ? 'It asks for nobody’s key.'
            : `It asks you to vouch for keys that were made on it by ${names.join(', ')}. Vouch only if you saw them choose their PIN, or they tell you so.`}
        </p>
        {known.some((p) => p === null) && (
          <p class="setup-soon">
            One of the keys is of somebody whom no keeper has admitted: it will count for nothing.
          </p>
        )}
        {twice && <p class="setup-soon">There is a {request.name} already: the two will be told apart by their ids.</p>}
        {problem && <Problem title="It was not admitted" words={problem} safe="The roster is as it was. Try again." />}
        {admitted.value && (
          <p class="setup-said" role="status">
            {request.name} is admitted.{' '}
            {server.value
              ? 'It learns so with the next sync; where it has no server, by a file.'
              : 'Save the file that it takes back in.'}
          </p>
        )}
        <div class="buttons">
          <button type="button" class="button" onClick={() => onDone()}>
            Back
          </button>
          {admitted.value ? (
            <button
              type="button"
              class={`button ${server.value ? '' : 'main'}`}
              aria-busy={busy}
              onClick={() => void save()}
            >
              Save the file for it
            </button>
          ) : (
            <button type="button" class="button main" aria-busy={busy} onClick={() => void admit()}>
              {busy ? 'Signing' : 'They are the same: admit it'}
            </button>
          )}
        </div>
      </div>
    </KeepersOnly>
  );
}

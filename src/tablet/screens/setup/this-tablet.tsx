import { askForPersistence, persistence, quota, storageIsNearlyFull } from '../../app/storage-state.ts';
import { openStore, openView } from '../../app/tablet.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { Fingerprint, inGroups } from '../../shared-screens/fields/fingerprint.tsx';

/** The app's version, taken from the package when it is built. */
const [version] = Object.values(
  import.meta.glob<string>('../../../../package.json', { import: 'version', eager: true }),
);

/** What the browser said about keeping the log, what that means, and what to do. */
const STORAGE_WORDS = {
  asked: ['not answered yet', 'The browser was asked to keep the log for good. It has not answered.'],
  granted: ['granted', 'The browser keeps the log until somebody deletes it by hand.'],
  refused: [
    'refused',
    'The log is kept, but the browser may clear it by itself if the tablet runs out of room. Install Lehrbook from the browser’s menu (add to the home screen), open it from there, and ask again. Keep room free on the tablet.',
  ],
  'not offered': [
    'not offered',
    'This browser cannot promise to keep the log. Use one that can, and until then keep room free on the tablet.',
  ],
} as const;

/** What this tablet is, the fingerprint of its casting, and how safe its storage is. */
export function ThisTablet() {
  const { db, device } = openStore();
  const { standing, genesis } = openView();
  const tablet = standing.tablets().find((t) => t.device === device);
  const [answer, meaning] = STORAGE_WORDS[persistence.value];
  return (
    <>
      <Sheet title="Storage" graduated class="setup-side">
        <div class="pad setup-panel">
          <p>
            Lasting storage: <b class={persistence.value === 'granted' ? '' : 'setup-soon'}>{answer}</b>
          </p>
          <p>{meaning}</p>
          {quota.value && <Room {...quota.value} />}
          {persistence.value !== 'granted' && (
            <button type="button" class="button main" onClick={() => void askForPersistence()}>
              Ask again
            </button>
          )}
        </div>
      </Sheet>
      <Sheet title="This tablet" class="setup-list">
        <dl class="pad facts">
          <dt>Name</dt>
          <dd>
            <b>{tablet?.name ?? 'not admitted yet'}</b>
          </dd>
          <dt>Tablet’s own id</dt>
          <dd class="n setup-id">{inGroups(device).join(' ')}</dd>
          <dt>Casting</dt>
          <dd>{genesis.name}</dd>
          <dt>Lehrbook</dt>
          <dd>
            version <span class="n">{version}</span>
          </dd>
        </dl>
        <div class="pad setup-panel">
          <h3>Fingerprint of the casting</h3>
          <Fingerprint casting={db.casting} />
          <p class="dim">
            Compare it with the sheet beside the furnace: all eight groups, on every tablet. Where they differ, it is
            another casting.
          </p>
        </div>
      </Sheet>
    </>
  );
}

const MEGABYTE = 1e6;

function Room({ used, allowed }: { used: number; allowed: number }) {
  return (
    <p>
      <Figure value={used / MEGABYTE} decimals={1} unit="MB" /> used of{' '}
      <Figure value={allowed / MEGABYTE} decimals={0} unit="MB" />
      {storageIsNearlyFull.value ? (
        <b class="setup-soon">. Nearly full: free room on the tablet before the next shift.</b>
      ) : (
        '.'
      )}
    </p>
  );
}

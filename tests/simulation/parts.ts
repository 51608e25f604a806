import { step } from '../../shared/sync/client.ts';
import type { ReadEntry, ServerStore, StoredEntry } from '../../shared/sync/port.ts';
import { cheapRead } from './cheap-entries.ts';
import type { Disk } from './disk.ts';

/** What a world is put together from. A planted fault takes the place of one of these; production code has no switch. */
export interface Parts {
  /** The tablet's machine. */
  readonly step: typeof step;
  /** How either side reads a line. */
  readonly read: ReadEntry;
  /** What a tablet does with entries that it is to keep. */
  readonly take: (disk: Disk, entries: readonly StoredEntry[]) => void;
  /** What stands between a server process and the store. */
  readonly door: (store: ServerStore) => ServerStore;
}

export const realParts: Parts = {
  step,
  read: cheapRead,
  take: (disk, entries) => {
    for (const entry of entries) disk.add(entry);
  },
  door: (store) => store,
};

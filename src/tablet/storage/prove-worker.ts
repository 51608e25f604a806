import { CastingDatabase } from './database.ts';
import { proveChains } from './prove.ts';

/** Proves the chains of a casting beside the screens. Asked with the casting's id; answers with progress, then the proof. */
addEventListener('message', (event: MessageEvent<string>) => {
  const db = new CastingDatabase(event.data);
  proveChains(db, (done, of) => postMessage({ done, of }))
    .then(
      (proof) => postMessage({ proof }),
      (error: unknown) => postMessage({ error: String(error) }),
    )
    .finally(() => db.close());
});

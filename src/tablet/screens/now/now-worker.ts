import { CastingDatabase } from '../../storage/database.ts';
import { putNowRow } from '../../storage/now-row.ts';
import type { NowAnswer } from './now-beside.ts';
import { nowFromStored } from './now-from-stored.ts';

const answer = (data: NowAnswer): void => postMessage(data);

/** Asked with a casting's id; keeps its first screen and answers with it. */
addEventListener('message', (event: MessageEvent<string>) => {
  const db = new CastingDatabase(event.data);
  nowFromStored(db, Date.now())
    .then(
      async ({ stamp, shard }) => {
        await putNowRow(db, stamp, shard);
        answer({ shard });
      },
      (error: unknown) => answer({ error: String(error) }),
    )
    .finally(() => db.close());
});

/**
 * A tablet fetches a long log over HTTP, is killed half way and goes on: `npx tsx tests/bench/run-fetch.ts [entries]`.
 * Needs a build.
 */
import { FetchHalfWay } from './fetch-half-way.ts';

const entries = Number(process.argv[2] ?? 100_000);
const world = await FetchHalfWay.begin(entries);
console.log(`${entries} entries sent in ${world.sent_ms} ms`);
const { onFirst, onSecond, ...fetched } = await world.run();
console.log({ ...fetched, entries: onSecond.entries, rows: onSecond.rows, faults: onSecond.faults });
console.log(
  JSON.stringify({ ...onSecond, rows: 0 }) === JSON.stringify({ ...onFirst, rows: 0 }) ? 'same state' : 'DIFFER',
);
console.log(world.problems);
await world.discard();

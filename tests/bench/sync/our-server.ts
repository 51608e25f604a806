import type { AddressInfo } from 'node:net';
import { readEntry } from '../../../shared/logbook/entry.ts';
import type { StoredEntry } from '../../../shared/sync/port.ts';
import { makeCode } from '../../../src/server/access.ts';
import { buildServer } from '../../../src/server/build-server.ts';
import { DatabaseEntryStore } from '../../../src/server/database/entry-store.ts';
import { openDatabase } from '../../../src/server/database/open-database.ts';
import { readSettings } from '../../../src/server/settings.ts';
import { asked, tellBytes, tellReady } from './counted.ts';

/** The product's server on SQLite, with the entries in it, beside the bench's pages. */
const { folder, lines, dataFolder, casting } = asked();
const PART = 5_000;
const CODES = 40;

const settings = readSettings({ DATA_FOLDER: dataFolder, REQUESTS_PER_MINUTE: '1000000', JOINS_PER_MINUTE: '10000' });
const database = await openDatabase(settings);
const store = new DatabaseEntryStore(database);
const entries = lines().map((text): StoredEntry => {
  const read = readEntry(text, casting);
  if ('fault' in read) throw new Error(read.fault);
  const { device, seq, prev } = read.entry;
  return { device, seq, prev, hash: read.hash, text };
});
for (let at = 0; at < entries.length; at += PART) await store.append(casting, entries.slice(at, at + PART));
const codes: string[] = [];
while (codes.length < CODES) codes.push(await makeCode(database.db, casting, 1440, Date.now()));
const app = await buildServer({ database, settings, folder });
tellBytes(app.server);
await app.listen({ port: 0, host: '127.0.0.1' });
tellReady((app.server.address() as AddressInfo).port, { codes });

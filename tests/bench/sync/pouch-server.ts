import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import express from 'express';
import pouchServer from 'express-pouchdb';
import PouchDB from 'pouchdb';
import { asked, tellBytes, tellReady } from './counted.ts';

/** PouchDB behind express-pouchdb, a document an entry, beside the bench's pages. */
const { folder, lines, dataFolder } = asked();
const PART = 5_000;

const Stored = PouchDB.defaults({ prefix: `${dataFolder}/` });
const db = new Stored('entries');
const docs = lines().map((text) => {
  const entry = JSON.parse(text) as { device: string; seq: number };
  return { _id: `${entry.device}/${String(entry.seq).padStart(9, '0')}`, ...entry };
});
for (let at = 0; at < docs.length; at += PART) await db.bulkDocs(docs.slice(at, at + PART));
const app = express();
app.use(express.static(folder));
app.use('/db', pouchServer(Stored, { mode: 'minimumForPouchDB', inMemoryConfig: true }));
const server = createServer(app);
tellBytes(server);
server.listen(0, '127.0.0.1', () => tellReady((server.address() as AddressInfo).port));

import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { gzipSync } from 'node:zlib';
import express from 'express';
import * as Y from 'yjs';
import { asked, tellBytes, tellReady } from './counted.ts';

/** One Yjs document in which every tablet has appended its entries, as one gzip update, beside the bench's pages. */
const { folder, lines } = asked();
const LEVEL = 6;

const doc = new Y.Doc();
const list = doc.getArray('entries');
const clients = new Map<string, number>();
for (const text of lines()) {
  const entry = JSON.parse(text) as { device: string };
  // Each tablet is a client of its own, and each entry a change of its own.
  if (!clients.has(entry.device)) clients.set(entry.device, clients.size + 1);
  doc.clientID = clients.get(entry.device)!;
  list.push([entry]);
}
const update = gzipSync(Y.encodeStateAsUpdate(doc), { level: LEVEL });
const app = express();
app.use(express.static(folder));
app.get('/update', (_request, response) => {
  response.setHeader('content-encoding', 'gzip');
  response.setHeader('cache-control', 'no-store');
  response.type('application/octet-stream').end(update);
});
const server = createServer(app);
tellBytes(server);
server.listen(0, '127.0.0.1', () => tellReady((server.address() as AddressInfo).port));

import { readFileSync } from 'node:fs';
import type { Server } from 'node:http';
import type { Socket } from 'node:net';

/** Bytes that a server has sent and received over all its connections. */
export interface Bytes {
  readonly down: number;
  readonly up: number;
}

/** What a bench server is told when it starts, in its arguments. */
export const asked = () => {
  const [folder, linesFile, dataFolder, casting] = process.argv.slice(2) as [string, string, string, string];
  return { folder, dataFolder, casting, lines: () => readFileSync(linesFile, 'utf8').split('\n') };
};

/** Counts what goes over the wire of a server that runs in a process of its own, and tells whoever started it. */
export function tellBytes(server: Server): void {
  const sockets = new Set<Socket>();
  const closed = { down: 0, up: 0 };
  server.on('connection', (socket: Socket) => {
    sockets.add(socket);
    socket.once('close', () => {
      sockets.delete(socket);
      closed.down += socket.bytesWritten;
      closed.up += socket.bytesRead;
    });
  });
  process.on('message', () => {
    const all = [...sockets].map((s) => ({ down: s.bytesWritten, up: s.bytesRead }));
    const sum = [closed, ...all].reduce((a, b) => ({ down: a.down + b.down, up: a.up + b.up }));
    process.send!({ bytes: sum });
  });
}

/** Says where it listens, and what else a page must know. */
export const tellReady = (port: number, extra: Readonly<Record<string, unknown>> = {}): void => {
  process.send!({ ready: { address: `http://localhost:${port}`, ...extra } });
};

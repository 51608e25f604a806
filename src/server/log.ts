import type { FastifyInstance, FastifyRequest } from 'fastify';

/** What of a request may stand in the log: no name, no address, no token, no path, nothing that was sent. */
interface LogLine {
  method: string;
  /** The pattern of the route, never the path that was asked for. */
  route: string;
  status: number;
  ms: number;
  /** The number of the tablet's token. */
  tablet?: number;
  /** The code of what was refused, from the table in docs/sync.md. */
  code?: string;
}

/** Writes one structured line for each request that was answered. */
export function logRequests(app: FastifyInstance): void {
  app.addHook('onResponse', async (request, reply) => {
    request.log.info(lineOf(request, reply.statusCode, Math.round(reply.elapsedTime)), 'answered');
  });
}

/** Writes down a fault of ours: its kind and where it happened, but no message, which may repeat what was sent. */
export function logFault(request: FastifyRequest, error: Error & { code?: string }): void {
  const at = (error.stack ?? '').split('\n').filter((line) => /^\s+at /.test(line));
  request.log.error({ fault: error.name, code: error.code, at: at.map((line) => line.trim()).slice(0, 8) }, 'failed');
}

function lineOf(request: FastifyRequest, status: number, ms: number): LogLine {
  return {
    method: request.method,
    route: request.routeOptions.url ?? 'none',
    status,
    ms,
    ...(request.access ? { tablet: request.access.id } : {}),
    ...(request.refusedWith ? { code: request.refusedWith } : {}),
  };
}

import type { FastifyInstance } from 'fastify';

const CONTENT_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "manifest-src 'self'",
  "worker-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

const HEADERS = {
  'content-security-policy': CONTENT_POLICY,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'geolocation=(), microphone=()',
} as const;

/** A browser that has met the server by TLS does not go back to plain HTTP for a year. */
const ONLY_TLS = 'max-age=31536000';

/** Gives every answer the headers that keep the app to itself, errors included. */
export function addSecurityHeaders(app: FastifyInstance): void {
  app.addHook('onSend', async (request, reply) => {
    reply.headers(HEADERS);
    if (request.protocol === 'https') reply.header('strict-transport-security', ONLY_TLS);
  });
}

import { buildApp } from './app.ts';

const port = Number(process.env.PORT ?? 8080);
if (!Number.isInteger(port) || port < 0 || port > 65535) {
  console.error(`PORT must be a whole number from 0 to 65535, not "${process.env.PORT}"`);
  process.exit(2);
}

const app = await buildApp();
for (const signal of ['SIGINT', 'SIGTERM'] as const) {
  process.once(signal, () => {
    app.close().then(
      () => process.exit(0),
      () => process.exit(1),
    );
  });
}
try {
  await app.listen({ port, host: process.env.HOST ?? '0.0.0.0' });
  const address = app.server.address();
  const bound = typeof address === 'object' && address ? address.port : port;
  console.log(`Lehrbook is at http://localhost:${bound}`);
} catch (error) {
  const code = (error as NodeJS.ErrnoException).code;
  console.error(code === 'EADDRINUSE' ? `Port ${port} is taken; name another in PORT` : String(error));
  process.exit(1);
}

import { readSettings, SettingError } from './settings.ts';
import { startServer } from './start-server.ts';

try {
  const settings = readSettings(process.env);
  const server = await startServer(settings);
  console.log(`Lehrbook is at ${server.address}`);
  // Apart from the address, on standard error: the one line of standard output stays what it is.
  if (server.firstCode !== null) {
    console.error(`Code for the first tablet, good once and for ${settings.codeMinutes} minutes: ${server.firstCode}`);
  }
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    process.once(signal, () => {
      server.stop().then(
        () => process.exit(0),
        (error: unknown) => {
          console.error(`The server did not close as it should: ${error}`);
          process.exit(1);
        },
      );
    });
  }
} catch (error) {
  const { code, message } = error as NodeJS.ErrnoException;
  console.error(code === 'EADDRINUSE' ? `Port ${process.env.PORT} is taken; name another in PORT` : message);
  process.exit(error instanceof SettingError ? 2 : 1);
}

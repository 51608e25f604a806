// `npm run server -- …`: what a keeper does at the server's machine. The server may run meanwhile.

import { BackupError } from '../server/backup.ts';
import { openDatabase } from '../server/database/open-database.ts';
import { readSettings, SettingError } from '../server/settings.ts';
import { answerKeeper, KEEPER_USAGE, UsageError } from './keeper.ts';

try {
  const settings = readSettings(process.env);
  const database = await openDatabase(settings);
  try {
    const lines = await answerKeeper(process.argv.slice(2), { database, settings, now: Date.now() });
    for (const line of lines) console.log(line);
  } finally {
    await database.close();
  }
} catch (error) {
  const known = error instanceof UsageError || error instanceof SettingError || error instanceof BackupError;
  console.error(known || error instanceof Error ? error.message : String(error));
  if (error instanceof UsageError) console.error(KEEPER_USAGE);
  process.exitCode = known ? 2 : 1;
}

// `npm test`: does all the set-up and runs every check. Nothing is left out when a tool is missing: it is named instead.
import { spawnSync } from 'node:child_process';
import { ensureBuild, ensurePackages, run, tool } from './setup.mjs';

const chromium = process.env.CHROMIUM ?? 'chromium';
if (spawnSync(chromium, ['--version'], { stdio: 'ignore' }).status !== 0) {
  console.error(
    'Chromium is missing: the tests drive the built app in it.\n' +
      'Install it (Debian, Ubuntu: apt-get install chromium), or name its program in CHROMIUM.',
  );
  process.exit(1);
}

ensurePackages();
tool('biome', ['check', '.']);
tool('tsc', ['-b']);
ensureBuild();
run(process.execPath, ['node_modules/vitest/vitest.mjs', 'run'], { CHROMIUM: chromium });

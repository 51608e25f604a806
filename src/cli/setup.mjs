// Set-up that must run before anything is installed: plain Node, no packages.
import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const stamps = join(root, 'node_modules', '.cache', 'lehrbook');

/** Runs a command in the project; what it prints goes to standard error, so that standard output stays ours. */
export function run(command, args, env = {}) {
  const done = spawnSync(command, args, { cwd: root, stdio: ['ignore', 2, 2], env: { ...process.env, ...env } });
  if (done.status !== 0) {
    console.error(`\n${command} ${args.join(' ')} failed${done.error ? `: ${done.error.message}` : ''}`);
    process.exit(done.status ?? 1);
  }
}

/** Runs a tool that the project's packages bring. */
export const tool = (name, args, env) => run(process.execPath, [binOf(name), ...args], env);

function binOf(name) {
  const link = join(root, 'node_modules', '.bin', name);
  return execFileSync(process.execPath, ['-p', `require('fs').realpathSync(${JSON.stringify(link)})`])
    .toString()
    .trim();
}

const hashOf = (text) => createHash('sha256').update(text).digest('hex');
const stampIs = (name, value) => existsSync(join(stamps, name)) && readFileSync(join(stamps, name), 'utf8') === value;
function stamp(name, value) {
  mkdirSync(stamps, { recursive: true });
  writeFileSync(join(stamps, name), value);
}

/** Installs the packages that the lock file names, when they are not the ones already here. */
export function ensurePackages() {
  const wanted = hashOf(readFileSync(join(root, 'package-lock.json')));
  if (stampIs('packages', wanted)) return;
  console.error('Installing packages …');
  run('npm', ['ci', '--no-audit', '--no-fund']);
  stamp('packages', wanted);
}

/** Adds packages that package.json names and that are not here, as after a pull; all others stay as they are. */
export function addMissingPackages() {
  const { dependencies, devDependencies } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  const names = Object.keys({ ...dependencies, ...devDependencies });
  if (names.every((name) => existsSync(join(root, 'node_modules', name, 'package.json')))) return;
  console.error('Adding packages …');
  run('npm', ['install', '--no-save', '--no-audit', '--no-fund']);
}

/** Builds the tablet's app when a source of it has changed. */
export function ensureBuild() {
  const sources = ['src/tablet', 'shared', 'public', 'vite.config.ts', 'package-lock.json'].flatMap((p) =>
    filesOf(join(root, p)),
  );
  const wanted = hashOf(sources.map((f) => `${f} ${hashOf(readFileSync(f))}`).join('\n'));
  if (stampIs('build', wanted) && existsSync(join(root, 'dist', 'tablet', 'index.html'))) return;
  console.error('Building the app …');
  tool('vite', ['build', '--logLevel', 'warn']);
  stamp('build', wanted);
}

function filesOf(path) {
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path)
    .sort()
    .flatMap((name) => filesOf(join(path, name)));
}

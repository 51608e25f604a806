// `npm start`: does all the set-up, builds the app, serves it. Prints one line: the address.
import { ensureBuild, ensurePackages } from './setup.mjs';

ensurePackages();
ensureBuild();
const { register } = await import('tsx/esm/api');
register();
await import('../server/main.ts');

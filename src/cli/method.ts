// `npm run method`: writes docs/method.md from the calculations and the published values that their tests read.
import { writeFileSync } from 'node:fs';
import { calculations } from '../../shared/calculations/registry.ts';
import { methodPage } from './method-page.ts';
import { otherChecks, publishedChecks, referenceLibraries } from './published-checks.ts';

writeFileSync(
  new URL('../../docs/method.md', import.meta.url),
  methodPage(calculations, publishedChecks, referenceLibraries, otherChecks),
);

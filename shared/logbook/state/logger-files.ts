import type { Kept } from '../log.ts';
import { live } from './strikes.ts';
import type { View } from './view.ts';

/** The logger files that count, in the order in which their samples begin. */
export const loggerFiles = (view: View): readonly Kept<'logger'>[] =>
  view.memo.get('logger files', () =>
    [...live(view, 'logger', 'logger')].sort((a, b) => Date.parse(a.body.from) - Date.parse(b.body.from)),
  );

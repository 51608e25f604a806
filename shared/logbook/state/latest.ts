import type { Kind } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { anyKind, type View } from './view.ts';

/** The lines that no other line of the list was written in knowledge of: one, unless two tablets wrote without knowing. */
export const latest = <K extends Kind>(view: View, lines: readonly Kept<K>[]): Kept<K>[] =>
  lines.filter(
    (line) => !lines.some((other) => other !== line && view.standing.knowledge.covers(anyKind(other), anyKind(line))),
  );

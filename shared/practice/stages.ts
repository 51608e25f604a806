import type { PracticeEvent } from './events.ts';
import type { Site } from './site.ts';
import { arrangements } from './stages/arrangements.ts';
import { furnace } from './stages/furnace.ts';
import { handovers } from './stages/handovers.ts';
import { preheat } from './stages/preheat.ts';
import { resurvey } from './stages/resurvey.ts';
import { tub } from './stages/tub.ts';
import { turntable } from './stages/turntable.ts';

/** What the crew did, a file for each stage, and what they arranged for a time. A later stage adds its own and moves the end of the story. */
export const stages: readonly ((site: Site) => PracticeEvent[])[] = [
  turntable,
  tub,
  furnace,
  preheat,
  resurvey,
  arrangements,
  handovers,
];

import type { PracticeEvent } from './events.ts';
import type { Site } from './site.ts';
import { ANNEAL_LAST, anneal } from './stages/anneal.ts';
import { arrangements } from './stages/arrangements.ts';
import { COOL_DOWN_LAST, coolDown } from './stages/cool-down.ts';
import { CORES_LAST, cores } from './stages/cores.ts';
import { furnace } from './stages/furnace.ts';
import { handovers } from './stages/handovers.ts';
import { MELT_LAST, melt } from './stages/melt.ts';
import { preheat } from './stages/preheat.ts';
import { RESURVEY_SHARE, resurvey } from './stages/resurvey.ts';
import { tub } from './stages/tub.ts';
import { turntable } from './stages/turntable.ts';

export type Stage = (site: Site) => PracticeEvent[];

/** What the crew did, a file for each stage, and what they arranged for a time. A later stage adds its own and moves the end of the story. */
export const stages: readonly Stage[] = [turntable, tub, furnace, preheat, resurvey, arrangements, handovers];

/** Where a practice casting stands when it is opened. */
export interface Story {
  readonly last: { readonly operation: string; readonly share: number };
  readonly stages: readonly Stage[];
}

export const stories = {
  /** In the middle of the survey after preheat. */
  survey: { last: { operation: '5.1', share: RESURVEY_SHARE }, stages },
  /** Before glass is loaded: tub and cores read, before and after the bake, by a crew to whom little happens. */
  cores: { last: CORES_LAST, stages: [cores] },
  /** In the melt watch; the weeks between are marked as done and no more. */
  melt: { last: MELT_LAST, stages: [...stages, melt] },
  /** In the slow range of the anneal, with the melt behind it. */
  anneal: { last: ANNEAL_LAST, stages: [...stages, anneal] },
  /** At the end of the cool-down, with the rounds of every heat behind it. */
  'cool-down': { last: COOL_DOWN_LAST, stages: [...stages, coolDown] },
} as const satisfies Readonly<Record<string, Story>>;
export type StoryName = keyof typeof stories;

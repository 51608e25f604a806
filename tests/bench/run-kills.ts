/** Kills a real browser so many times in the middle of each act: `npx tsx tests/bench/run-kills.ts [times] [seed] [act]`. */
import { type Kills, killed, type Moment } from './kills.ts';
import { Lab } from './lab.ts';

/** Kills of one casting: its log grows with each, and is read and proved whole after each. */
const AT_ONCE = 20;

const times = Number(process.argv[2] ?? 100);
const seed = process.argv[3] ?? 'kills';
const wanted = process.argv[4];
const lab = await Lab.open();
for (const moment of ['saving', 'sealing', 'rebuilding'] as const)
  if (!wanted || wanted === moment) console.log(together(moment, await parts(moment)));
await lab.close();

async function parts(moment: Moment): Promise<Kills[]> {
  const done: Kills[] = [];
  for (let left = times; left > 0; left -= AT_ONCE)
    done.push(await killed(lab, moment, Math.min(left, AT_ONCE), `${seed} ${left}`));
  return done;
}

function together(moment: Moment, all: readonly Kills[]): Kills {
  const sum = (of: (k: Kills) => number): number => all.reduce((total, k) => total + of(k), 0);
  return {
    moment,
    kills: sum((k) => k.kills),
    told: sum((k) => k.told),
    inTheMiddle: sum((k) => k.inTheMiddle),
    lost: all.flatMap((k) => k.lost),
    thrownAway: sum((k) => k.thrownAway),
    faults: all.flatMap((k) => k.faults),
  };
}

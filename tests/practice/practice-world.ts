import { randomBytes } from 'node:crypto';
import { checkSignature } from '../../shared/logbook/crypto.ts';
import { readEntry } from '../../shared/logbook/entry.ts';
import { Log } from '../../shared/logbook/log.ts';
import { judge } from '../../shared/logbook/state/derived.ts';
import { type View, viewOf } from '../../shared/logbook/state/view.ts';
import { buildPlan } from '../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../shared/plan/practice-design.ts';
import { crewKeys } from '../../shared/practice/crew.ts';
import { generatePractice, type Practice, type PracticeWanted } from '../../shared/practice/generate-practice.ts';
import { webVerifier } from '../../src/tablet/storage/keys.ts';
import { newSigner } from './node-signers.ts';

/** 14:20 in a hall one hour east of Greenwich. */
export const ENDS_AT = Date.UTC(2026, 3, 24, 13, 20);

export async function practice(
  seed: string,
  change: Partial<Pick<PracticeWanted, 'endsAt' | 'utcOffset' | 'onProgress' | 'story'>> = {},
): Promise<Practice> {
  const people = await Promise.all(
    crewKeys.map(async (who) => {
      const signers = [await newSigner(), await newSigner()] as const;
      return [who, { id: randomBytes(16).toString('hex'), signers }] as const;
    }),
  );
  return generatePractice({
    seed,
    endsAt: ENDS_AT,
    utcOffset: 60,
    timeZone: 'Etc/GMT-1',
    plan: buildPlan(practiceDesign),
    tablets: [(await newSigner()).publicKey, (await newSigner()).publicKey],
    people: Object.fromEntries(people) as PracticeWanted['people'],
    ...change,
  });
}

/** The casting as a tablet has it that read all lines, or those up to a line. */
export async function viewOfLines(casting: string, lines: readonly string[]): Promise<View> {
  const log = new Log(casting);
  for (const line of lines) {
    const read = readEntry(line, casting);
    if ('fault' in read) throw new Error(`A line does not read: ${read.fault}`);
    log.add(read.entry, read.hash, await checkSignature(read.entry, webVerifier));
  }
  const view = viewOf(log, judge);
  if (!view) throw new Error('No genesis');
  return view;
}

import type { Signer } from '../../../shared/logbook/crypto.ts';
import { buildPlan } from '../../../shared/plan/build-plan.ts';
import { practiceDesign } from '../../../shared/plan/practice-design.ts';
import { type CrewKey, crewKeys, PRACTICE_CASTING_NAME } from '../../../shared/practice/crew.ts';
import { generatePractice, type PracticePerson } from '../../../shared/practice/generate-practice.ts';
import type { LoggerRecord } from '../../../shared/practice/logger-record.ts';
import { PRACTICE_PIN } from '../../../shared/practice/practice-pin.ts';
import type { StoryName } from '../../../shared/practice/stages.ts';
import { choosePerson } from '../app/session.ts';
import { listCasting, logChanged, showCasting } from '../app/tablet.ts';
import { CastingStore } from '../storage/casting-store.ts';
import type { PersonKeyRow, TabletKeyRow } from '../storage/database.ts';
import { makeTabletKey, randomId, tabletSigner } from '../storage/keys.ts';
import { LoggerBeside } from '../storage/logger/logger-beside.ts';
import { makePersonKey, openPersonKey } from '../storage/person-keys.ts';

/** The story that every tablet tells. */
const SEED = 'quarry lane';

interface PracticeKeys {
  readonly person: PracticePerson;
  /** For this tablet, so that they can sign with the practice PIN. */
  readonly row: PersonKeyRow;
}

/**
 * Makes a practice casting in a database of its own and opens it, with the technician at the tablet. Each call makes
 * another one.
 * @param onProgress told how many of how many entries are written.
 * @param story how far the casting has come.
 */
export async function openPractice(
  onProgress?: (done: number, of: number) => void,
  story: StoryName = 'survey',
): Promise<void> {
  const [tabletKey, otherKey] = await Promise.all([makeTabletKey(), makeTabletKey()]);
  const keys = Object.fromEntries(
    await Promise.all(crewKeys.map(async (who) => [who, await practiceKeys(tabletKey)] as const)),
  ) as { [K in CrewKey]: PracticeKeys };
  const now = new Date();
  const { casting, lines, files } = await generatePractice({
    seed: SEED,
    story,
    endsAt: now.getTime(),
    utcOffset: -now.getTimezoneOffset(),
    timeZone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    plan: buildPlan(practiceDesign),
    tablets: [tabletKey.publicKey, otherKey.publicKey],
    people: Object.fromEntries(crewKeys.map((who) => [who, keys[who].person])) as { [K in CrewKey]: PracticePerson },
    onProgress: (done, of) => {
      onProgress?.(done, of);
      return drawn();
    },
  });
  const store = await CastingStore.createFrom(casting, tabletKey, lines, logChanged);
  await store.db.personKeys.bulkAdd(crewKeys.map((who) => keys[who].row));
  await keepFiles(casting, files, onProgress);
  await listCasting({ id: casting, name: PRACTICE_CASTING_NAME, practice: true, openedAt: now.toISOString() });
  showCasting(store);
  await choosePerson(keys.technician.person.id);
}

/** Loggers' files come in as any others do: read in a worker, and kept with their samples. */
async function keepFiles(
  casting: string,
  files: readonly LoggerRecord[],
  onProgress?: (done: number, of: number) => void,
): Promise<void> {
  if (files.length === 0) return;
  const beside = new LoggerBeside();
  try {
    for (const [i, { name, text, mapping }] of files.entries()) {
      onProgress?.(i, files.length);
      const file = new File([text], name, { type: 'text/csv' });
      await beside.read(file, mapping, Date.now(), () => {});
      await beside.keep(casting, file, mapping);
    }
  } finally {
    beside.end();
  }
}

async function practiceKeys(tabletKey: TabletKeyRow): Promise<PracticeKeys> {
  const id = randomId();
  const row = await makePersonKey(id, PRACTICE_PIN, tabletKey);
  // The other tablet is not there: its keys write the practice entries and are then forgotten.
  const onOther = tabletSigner(await makeTabletKey());
  return { row, person: { id, signers: [opening(row, tabletKey), onOther] } };
}

/** A key's signer, opened with the practice PIN beside the other work: it takes a moment, and not all of them sign. */
function opening(row: PersonKeyRow, tabletKey: TabletKeyRow): Signer {
  const opened = openPersonKey(row, PRACTICE_PIN, tabletKey);
  return {
    publicKey: row.publicKey,
    async sign(text) {
      const signer = await opened;
      if (!signer) throw new Error('The practice PIN does not open the key that it was made with');
      return signer.sign(text);
    },
  };
}

/** Lets the screen show what it was told. */
const drawn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

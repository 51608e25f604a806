import { computed, signal } from '@preact/signals';
import type { Signer } from '../../../shared/logbook/crypto.ts';
import type { Person } from '../../../shared/logbook/standing.ts';
import { amendFirstFrame } from '../storage/first-frame.ts';
import { nowShard } from './now-shard.ts';
import { openDatabase, tabletDb, view } from './tablet.ts';

const personId = signal<string | null>(null);
const unlocked = new Map<string, Signer>();

/** Who works with the tablet now: chosen by a tap, since recording needs no PIN. Signing does. */
export const person = computed<Person | null>(() => {
  const id = personId.value;
  if (id === null) return null;
  return view.value ? view.value.standing.person(id) : (nowShard.value?.people.find((p) => p.id === id) ?? null);
});

/** Everybody of the casting who may be chosen. */
export const people = (): readonly Person[] =>
  (view.value ? view.value.standing.people() : (nowShard.value?.people ?? [])).filter((p) => !p.retired);

const settingKey = (): string => `person/${openDatabase().casting}`;

/** Who had the tablet when its first frame was kept. */
export const expectPerson = (id: string | null): void => {
  personId.value = id;
};

export async function loadPerson(): Promise<void> {
  const row = await tabletDb.settings.get(settingKey());
  personId.value = (row?.value as string | undefined) ?? null;
}

/** Hands the tablet to a person. Keys that others had opened are closed. */
export async function choosePerson(id: string | null): Promise<void> {
  unlocked.clear();
  personId.value = id;
  amendFirstFrame({ person: id });
  await tabletDb.settings.put({ key: settingKey(), value: id });
}

/** The person who records. @throws {Error} when nobody has said who they are. */
export function recorder(): Person {
  if (!person.value) throw new Error('Choose first who works with the tablet');
  return person.value;
}

/** The signer of a person whose key is open since they took the tablet. */
export const openSigner = (id: string): Signer | null => unlocked.get(id) ?? null;

/** Keeps a person's key open while they work with the tablet. */
export const keepSigner = (id: string, signer: Signer): void => {
  unlocked.set(id, signer);
};

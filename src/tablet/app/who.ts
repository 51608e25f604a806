import { signal } from '@preact/signals';
import type { Person } from '../../../shared/logbook/standing.ts';
import { person } from './session.ts';
import { roleName } from './words.ts';

/** What `who-asker.tsx` stands for; null while nobody is asked. */
export const whoAsked = signal<((who: Person | null) => void) | null>(null);

/** Asks who works with the tablet. Null when nobody answers. */
export function askWho(): Promise<Person | null> {
  return new Promise((answer) => {
    whoAsked.value = answer;
  });
}

/** The person at the tablet, asked for where nobody has said who they are. */
export const someone = async (): Promise<Person | null> => person.value ?? (await askWho());

export const rolesOf = (who: Person): string => who.roles.map(roleName).join(', ') || 'no role';

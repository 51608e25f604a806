import { computed } from '@preact/signals';
import type { StateLineProps } from '../parts/state-line.tsx';
import { server, syncStatus } from './server-link.ts';
import { outbox } from './storage-state.ts';
import { clockTime, dateIn, dayAndTime, now } from './time.ts';

/** The server's place in Setup. */
export const SERVER_PLACE = '/setup?part=tablets&show=server';

/** A transfer of so many entries is told while it lasts; shorter ones are over before anybody has read it. */
const LONG = 100;
/** What waits longer than this to be carried is late, ms. */
const LATE_AFTER_ms = 24 * 3_600_000;
/** What passes by itself and is no trouble. */
const CALM: readonly string[] = ['no-answer', 'too-many-requests', 'server-fault'];

/** What is not yet elsewhere, and since when. No network is no trouble; a refusal is, in words. */
export function quietLine(casting: { readonly timeZone: string; readonly dayOne: string }): StateLineProps {
  const { count, since } = outbox.value;
  const { carriedAt, ...line } = ofServer.value;
  return {
    waiting: count,
    since: carriedAt && timeWords(carriedAt, casting),
    late: carriedAt !== null && since !== null && now.value.getTime() - Date.parse(since) > LATE_AFTER_ms,
    href: SERVER_PLACE,
    ...line,
  };
}

const ofServer = computed(() => {
  const { toSend = 0, toFetch = 0, most = 0, trouble = null, refused = [] } = syncStatus.value ?? {};
  const refuses = (trouble !== null && !CALM.includes(trouble.why)) || refused.length > 0;
  const left = toSend + toFetch;
  return {
    carriedAt: server.value?.carriedAt ?? null,
    ...(refuses ? { trouble: 'Not carried: see why in Setup' } : {}),
    ...(most > LONG && left > 0 ? { waiting: left, carrying: 1 - left / most } : {}),
  };
});

function timeWords(at: string, { timeZone, dayOne }: { readonly timeZone: string; readonly dayOne: string }): string {
  const today = dateIn(at, timeZone) === dateIn(now.value, timeZone);
  return today ? `${clockTime(at, timeZone)} today` : dayAndTime(at, dayOne, timeZone);
}

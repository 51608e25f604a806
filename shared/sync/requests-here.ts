import type { Body } from '../logbook/kinds.ts';
import { byTime } from '../logbook/state/readings.ts';
import type { View } from '../logbook/state/view.ts';
import { deviceOfRequest, type JoinRequest } from './join-request.ts';

/** A request as the body of an entry: it travels like any other, and counts for nothing. */
export const bodyOfRequest = ({ name, key, people, signature }: JoinRequest): Body<'request'> => ({
  name,
  key,
  people: people.map((p) => ({ ...p })),
  signature,
});

/**
 * What tablets ask for here and no keeper has given: the last request of each. Whether it is signed by the keys that it
 * names is for who opens it to check.
 */
export function requestsHere(view: View): ReadonlyMap<string, JoinRequest> {
  const { log, standing } = view;
  const tablets = new Map(standing.tablets().map((t) => [t.device, t]));
  const asked = [...log.inScope<'request'>('request')].sort(byTime).flatMap(({ entry, body }) => {
    const request: JoinRequest = { says: 'join', format: 1, casting: log.casting, ...body };
    return deviceOfRequest(request) === entry.device ? [[entry.device, request] as const] : [];
  });
  const lacks = (device: string, { people }: JoinRequest): boolean =>
    !tablets.has(device) || people.some(({ person, key }) => !standing.keysOf(person, device).includes(key));
  return new Map(
    [...new Map(asked)].filter(([device, request]) => !tablets.get(device)?.retired && lacks(device, request)),
  );
}

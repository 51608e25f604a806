import { canonicalJson } from '../logbook/canonical.ts';
import type { Head } from '../logbook/entry.ts';
import type { Log } from '../logbook/log.ts';
import type { ChainView, Heads } from './port.ts';

/** A log as sync reads it. What waits for an entry before it is not here yet, as far as sync is concerned. */
export function viewOf(log: Log): ChainView {
  return {
    tips: () => tipsIn(log),
    get: (hash) => {
      const tie = log.outline(hash);
      if (!tie || !log.isLinked({ outline: tie })) return undefined;
      const { device, seq, prev } = tie;
      return { device, seq, prev, hash };
    },
    text: (hash) => canonicalJson(log.get(hash)!.entry),
  };
}

function tipsIn(log: Log): Heads {
  const plain = log.devices().filter((device) => log.forkOf(device) === null);
  const tips = Object.fromEntries(plain.flatMap((device) => (log.head(device) ? [[device, [log.head(device)!]]] : [])));
  const forked = log.devices().filter((device) => log.forkOf(device) !== null);
  return forked.length === 0 ? tips : { ...tips, ...forkedTips(log, new Set(forked)) };
}

/** Forks are rare: only then is the log gone through. */
function forkedTips(log: Log, devices: ReadonlySet<string>): Heads {
  const linked = [...log.all()].filter((kept) => devices.has(kept.entry.device) && log.isLinked(kept));
  const followed = new Set(linked.map((kept) => kept.entry.prev));
  const tips: Record<string, Head[]> = {};
  for (const { entry, hash } of linked)
    if (!followed.has(hash)) tips[entry.device] = [...(tips[entry.device] ?? []), [entry.seq, hash]];
  return tips;
}

import type { SyncState } from '../../shared/sync/client-state.ts';
import type { ServerStore, StoredEntry } from '../../shared/sync/port.ts';
import { type Parts, realParts } from './parts.ts';

/** A mistake that somebody could make, and that the model must find. */
export interface PlantedFault {
  readonly name: string;
  /** Made anew for each world. */
  readonly parts: () => Partial<Parts>;
}

const doors = (change: (store: ServerStore) => Partial<ServerStore>): Partial<Parts> => ({
  door: (store) => ({
    heads: (casting) => store.heads(casting),
    append: (casting, entries) => store.append(casting, entries),
    arrivedAfter: (casting, wanted) => store.arrivedAfter(casting, wanted),
    ...change(store),
  }),
});

const takes = (change: (entries: readonly StoredEntry[]) => readonly StoredEntry[]): Partial<Parts> => ({
  take: (disk, entries) => realParts.take(disk, change(entries)),
});

const states = (change: (state: SyncState) => SyncState): Partial<Parts> => ({
  step: (state, event, at) => {
    const next = realParts.step(state, event, at);
    return { ...next, state: change(next.state) };
  },
});

const withoutLast = (entries: readonly StoredEntry[]): readonly StoredEntry[] =>
  entries.length > 1 ? entries.slice(0, -1) : entries;

export const plantedFaults: readonly PlantedFault[] = [
  {
    name: 'the server acknowledges before it has committed',
    parts: () =>
      doors((store) => ({
        append: async (casting, entries) => {
          store.append(casting, entries).catch(() => {});
          return { added: entries.length };
        },
      })),
  },
  {
    name: 'the server drops the last entry of a batch and acknowledges it',
    parts: () => doors((store) => ({ append: (casting, entries) => store.append(casting, withoutLast(entries)) })),
  },
  {
    name: 'the server takes the second entry at a place for a copy of the first',
    parts: () =>
      doors((store) => ({
        append: async (casting, entries) => {
          const { entries: here } = await store.arrivedAfter(casting, everything);
          const taken = new Map(here.map((e) => [`${e.device}/${e.seq}`, e.hash]));
          const kept = entries.filter((e) => [undefined, e.hash].includes(taken.get(`${e.device}/${e.seq}`)));
          return store.append(casting, kept);
        },
      })),
  },
  {
    name: 'the server takes a full disk for a success',
    parts: () =>
      doors((store) => ({
        append: (casting, entries) => store.append(casting, entries).catch(() => ({ added: entries.length })),
      })),
  },
  {
    name: 'the server names one branch of a fork only',
    parts: () =>
      doors((store) => ({
        heads: async (casting) =>
          Object.fromEntries(Object.entries(await store.heads(casting)).map(([d, heads]) => [d, heads.slice(0, 1)])),
      })),
  },
  {
    name: 'the server skips one entry at the start of each page',
    parts: () =>
      doors((store) => ({
        arrivedAfter: (casting, wanted) => store.arrivedAfter(casting, { ...wanted, after: wanted.after + 1 }),
      })),
  },
  {
    name: 'the server always leaves out the last entry that arrived, and counts it as given',
    parts: () =>
      doors((store) => ({
        arrivedAfter: async (casting, wanted) => {
          const page = await store.arrivedAfter(casting, wanted);
          return page.last === page.count ? { ...page, entries: page.entries.slice(0, -1) } : page;
        },
      })),
  },
  {
    name: 'the server writes an entry anew in its own words',
    parts: () =>
      doors((store) => ({
        append: (casting, entries) =>
          store.append(
            casting,
            entries.map((e) => ({ ...e, text: e.text.replace('08:00:00Z', '09:00:00+01:00') })),
          ),
      })),
  },
  {
    name: 'the tablet takes a request without an answer for done',
    parts: () => ({
      step: (state, event, at) => {
        const { phase } = state;
        const isLost = phase.at === 'pushing' && event.on === 'woke' && event.key === state.alarm;
        const answered = { on: 'answer', request: state.request, answer: { of: 'push' } } as const;
        return realParts.step(state, isLost ? answered : event, at);
      },
    }),
  },
  {
    name: 'the tablet takes a late answer for the answer to what it asked last',
    parts: () => ({
      step: (state, event, at) =>
        realParts.step(state, event.on === 'answer' ? { ...event, request: state.request } : event, at),
    }),
  },
  {
    name: 'the tablet takes a refused batch for carried',
    parts: () => ({
      step: (state, event, at) => {
        const isRefused = event.on === 'answer' && event.answer.of === 'refusal' && state.phase.at === 'pushing';
        return realParts.step(state, isRefused ? { ...event, answer: { of: 'push' } } : event, at);
      },
    }),
  },
  {
    name: 'the tablet stores all of a batch but its last entry',
    parts: () => takes(withoutLast),
  },
  {
    name: 'the tablet drops what a newer build wrote',
    parts: () => takes((entries) => entries.filter((e) => !e.text.includes('kind-of-a-newer-build'))),
  },
  {
    name: 'the tablet keeps a changed entry',
    parts: () => takes((entries) => entries.map((e) => ({ ...e, text: e.text.replace('"note"', '"Note"') }))),
  },
  {
    name: 'the tablet never looks through the arrivals again',
    parts: () => states((state) => ({ ...state, sweep: { ...state.sweep, rest: 1e9 } })),
  },
  {
    name: 'the tablet never asks for its own chain',
    parts: () => ({
      step: (state, event, at) => {
        const { effects, ...next } = realParts.step(state, event, at);
        const { device } = at.settings;
        return {
          ...next,
          effects: effects.map((e) =>
            e.do === 'ask' && e.what.to === 'pull' ? { ...e, what: { ...e.what, without: device } } : e,
          ),
        };
      },
    }),
  },
  {
    name: 'the tablet forgets nothing that the server once had',
    parts: () => ({
      step: (state, event, at) => {
        if (event.on !== 'answer' || event.answer.of !== 'heads') return realParts.step(state, event, at);
        const heads = { ...event.answer.heads, ...(state.theirs ?? {}) };
        return realParts.step(state, { ...event, answer: { of: 'heads', heads } }, at);
      },
    }),
  },
  {
    name: 'the tablet never sends its newest entry',
    parts: () => ({
      step: (state, event, at) => {
        const tips = () =>
          Object.fromEntries(
            Object.entries(at.view.tips()).flatMap(([device, heads]) => {
              const behind = heads.flatMap(([seq, hash]) => {
                const prev = at.view.get(hash)!.prev;
                return prev === null ? [] : [[seq - 1, prev] as const];
              });
              return behind.length === 0 ? [] : [[device, behind.map(([s, h]): [number, string] => [s, h])]];
            }),
          );
        const view = { tips, get: (hash: string) => at.view.get(hash), text: (hash: string) => at.view.text(hash) };
        return realParts.step(state, event, { ...at, view });
      },
    }),
  },
  {
    name: 'the tablet waits for nothing between its tries',
    parts: () => ({
      step: (state, event, at) => {
        const { effects, ...next } = realParts.step(state, event, at);
        const isWaiting = next.state.phase.at === 'waiting';
        return { ...next, effects: effects.map((e) => (e.do === 'wake' && isWaiting ? { ...e, in_ms: 0 } : e)) };
      },
    }),
  },
  {
    name: 'the tablet gives up after ten failures',
    parts: () => ({
      step: (state, event, at) => {
        const { effects, ...next } = realParts.step(state, event, at);
        const isTired = next.state.failures >= 10;
        return { ...next, effects: isTired ? effects.filter((e) => e.do !== 'wake') : effects };
      },
    }),
  },
  {
    name: 'either side hashes no line of a place that it has read before',
    parts: () => {
      const hashes = new Map<string, string>();
      return {
        read: (text, casting) => {
          const read = realParts.read(text, casting);
          if ('fault' in read) return read;
          const place = `${read.entry.device}/${read.entry.seq}/${read.entry.prev}`;
          const hash = hashes.get(place) ?? read.hash;
          hashes.set(place, hash);
          return { ...read, hash };
        },
      };
    },
  },
];

const everything = { after: 0, without: null, mostEntries: 1e9, mostText: 1e9 };

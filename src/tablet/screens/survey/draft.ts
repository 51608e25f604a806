import { useSignal } from '@preact/signals';
import { useCallback, useEffect } from 'preact/hooks';
import { openStore } from '../../app/tablet.ts';
import { holdUpdates } from '../../app/update-offer.tsx';

/** A temperature as typed, with its unit and the time at which it was typed. */
export interface TypedTemperature {
  readonly text: string;
  readonly unit: string;
  readonly at: string;
}

/** What is being done at a station that is measured already. */
export type Redo = { readonly mode: 'again' | 'correct'; readonly target: string };

/** Everything of a pass that is typed or chosen and not yet in an entry. */
export interface Draft {
  /** The station worked on. */
  readonly station: string | null;
  /** Typed and not entered, by station. */
  readonly texts: Readonly<Record<string, string>>;
  readonly redo: Readonly<Record<string, Redo>>;
  readonly reason: string;
  readonly reasonWords: string;
  readonly part: TypedTemperature | null;
  readonly scale: TypedTemperature | null;
  /** An instrument's id, null for none, undefined while nobody has chosen. */
  readonly instrument?: string | null;
  /** Who reads, where it is not the person at the tablet. */
  readonly observer: string | null;
  /** Date and time that stand on the paper, while typing from it. */
  readonly paper: { readonly date: string; readonly time: string } | null;
  /** Stations named as they come, nothing measured there yet. */
  readonly named: readonly string[];
}

const EMPTY: Draft = {
  station: null,
  texts: {},
  redo: {},
  reason: 'mistyped',
  reasonWords: '',
  part: null,
  scale: null,
  observer: null,
  paper: null,
  named: [],
};

export interface KeptDraft {
  /** Null until it is read back. */
  readonly draft: Draft | null;
  /** The newest, for what goes on after a wait. */
  readonly latest: () => Draft;
  readonly change: (change: Partial<Draft>) => void;
}

/** The draft of one survey, read back from the tablet and kept there with every change. */
export function useDraft(operation: string, characteristic: string): KeptDraft {
  const key = `survey/${operation}/${characteristic}`;
  const draft = useSignal<Draft | null>(null);
  useEffect(() => {
    let wanted = true;
    void openStore()
      .db.drafts.get(key)
      .then((row) => {
        if (wanted) draft.value = { ...EMPTY, ...(row?.value as Partial<Draft> | undefined) };
      });
    return () => {
      wanted = false;
    };
  }, [key]);
  const unsaved = Object.values(draft.value?.texts ?? {}).some((text) => text !== '');
  useEffect(() => (unsaved ? holdUpdates() : undefined), [unsaved]);
  const change = useCallback(
    (changed: Partial<Draft>) => {
      draft.value = { ...(draft.peek() ?? EMPTY), ...changed };
      keep(key, draft.value);
    },
    [key],
  );
  return { draft: draft.value, latest: () => draft.peek() ?? EMPTY, change };
}

const waiting = new Map<string, Draft>();

/** Writes the newest draft; while one is being written only the last of the next is kept. */
function keep(key: string, draft: Draft): void {
  const writing = waiting.has(key);
  waiting.set(key, draft);
  if (!writing) void write(key);
}

async function write(key: string): Promise<void> {
  for (let value = waiting.get(key); value !== undefined; value = next(key, value)) {
    // A draft that cannot be kept costs retyping, never an entry.
    await openStore()
      .db.drafts.put({ key, value })
      .catch(() => undefined);
  }
}

function next(key: string, written: Draft): Draft | undefined {
  const latest = waiting.get(key);
  if (latest !== written) return latest;
  waiting.delete(key);
  return undefined;
}

import { useSignal } from '@preact/signals';
import { useEffect, useLayoutEffect, useMemo } from 'preact/hooks';
import { DraftRow } from '../storage/draft-row.ts';
import { openDatabase, tabletDb } from './tablet.ts';
import { holdUpdates } from './update-offer.tsx';

/** What was typed on a screen and is not saved yet. */
export interface Draft<T> {
  /** Empty until it is `ready`. */
  readonly value: T;
  /** False until the tablet has been asked for what was left there. */
  readonly ready: boolean;
  /** The newest, for what goes on after a wait. */
  readonly latest: () => T;
  readonly change: (part: Partial<T>) => void;
  /** Forgets what was typed: it has been saved, or is not wanted. */
  readonly clear: () => Promise<void>;
}

export interface DraftOptions<T> {
  /** With the open casting, or with the tablet's own settings while none is open. */
  readonly where?: 'casting' | 'tablet';
  /** Whether the draft holds something that an update of the app must wait for; else all that differs from empty. */
  readonly holds?: (value: T) => boolean;
  /** What becomes of both when something was typed before what was left there had been read; else the typed one stays. */
  readonly join?: (left: T, typed: T) => T;
}

/** Keeps what is typed on this tablet, so that leaving the screen, or the app, loses nothing. */
export function useDraft<T extends object>(key: string, empty: T, options: DraftOptions<T> = {}): Draft<T> {
  const table = options.where === 'tablet' ? tabletDb.settings : openDatabase().drafts;
  const shown = useSignal<{ readonly of: DraftRow; readonly value: T } | null>(null);
  const { row, start, ...draft } = useMemo(() => {
    const row = new DraftRow(table, key);
    const latest = () => {
      const now = shown.peek();
      return now?.of === row ? now.value : empty;
    };
    const change = (part: Partial<T>) => {
      shown.value = { of: row, value: { ...latest(), ...part } };
      void row.keep(shown.value.value);
    };
    const clear = () => {
      shown.value = { of: row, value: empty };
      return row.forget();
    };
    return { row, start: empty, latest, change, clear };
  }, [table, key]);
  // Before any key can be heard: what is read is what was left there, not what is typed now.
  useLayoutEffect(() => {
    let wanted = true;
    void row.read().then((found) => {
      if (!wanted) return;
      const left = { ...start, ...(found as Partial<T> | undefined) };
      const typed = shown.peek();
      if (typed?.of !== row) shown.value = { of: row, value: left };
      else if (found && options.join) draft.change(options.join(left, typed.value));
    });
    return () => {
      wanted = false;
    };
  }, [row]);
  const ready = shown.value?.of === row;
  const value = ready ? shown.value!.value : start;
  const unsaved = options.holds ? options.holds(value) : JSON.stringify(value) !== JSON.stringify(start);
  useEffect(() => (unsaved ? holdUpdates() : undefined), [unsaved]);
  return { ...draft, ready, value };
}

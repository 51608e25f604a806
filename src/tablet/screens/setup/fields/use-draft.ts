import type { EntityTable } from 'dexie';
import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { holdUpdates } from '../../../app/update-offer.tsx';

export type DraftTable = EntityTable<{ key: string; value: unknown }, 'key'>;

export interface Draft<T> {
  readonly value: T;
  readonly change: (patch: Partial<T>) => void;
  /** Forgets what was typed: it has been saved, or is not wanted. */
  readonly clear: () => Promise<void>;
}

/**
 * What is typed on a form, kept in the store so that leaving the screen loses nothing. While something typed stands
 * unsaved, an update waits.
 * @returns null until the store has answered.
 */
export function useDraft<T extends object>(table: DraftTable, key: string, empty: T): Draft<T> | null {
  const start = useRef(empty);
  const latest = useRef<T | null>(null);
  const [shown, setShown] = useState<{ value: T; typed: boolean } | null>(null);
  const show = useCallback((value: T, typed: boolean) => {
    latest.current = value;
    setShown({ value, typed });
  }, []);
  useEffect(() => {
    let here = true;
    void table.get(key).then((row) => {
      if (here) show({ ...start.current, ...(row?.value as T | undefined) }, row !== undefined);
    });
    return () => {
      here = false;
    };
  }, [table, key, show]);
  const typed = shown?.typed ?? false;
  useEffect(() => (typed ? holdUpdates() : undefined), [typed]);
  const change = useCallback(
    (patch: Partial<T>) => {
      const value = { ...(latest.current ?? start.current), ...patch };
      show(value, true);
      void table.put({ key, value });
    },
    [table, key, show],
  );
  const clear = useCallback(async () => {
    await table.delete(key);
    show(start.current, false);
  }, [table, key, show]);
  return shown && { value: shown.value, change, clear };
}

import { useEffect, useRef, useState } from 'preact/hooks';
import { openStore } from '../../app/tablet.ts';
import { holdUpdates } from '../../app/update-offer.tsx';

/** What was typed on a screen and is not saved yet. */
export interface Draft<T> {
  /** Null until the tablet has been asked for what was left there. */
  readonly value: T | null;
  readonly change: (part: Partial<T>) => void;
  readonly clear: () => void;
}

/**
 * Keeps what is typed on this tablet, so that leaving the screen, or the app, loses nothing. While it differs from
 * `empty`, an update of the app waits.
 */
export function useDraft<T extends object>(key: string, empty: T): Draft<T> {
  const [value, setValue] = useState<T | null>(null);
  const latest = useRef(empty);
  const take = (next: T) => {
    latest.current = next;
    setValue(next);
  };
  useEffect(() => {
    let wanted = true;
    void stored<T>(key).then((found) => wanted && take({ ...empty, ...found }));
    return () => {
      wanted = false;
    };
  }, [key]);
  const typed = value !== null && JSON.stringify(value) !== JSON.stringify(empty);
  useEffect(() => (typed ? holdUpdates() : undefined), [typed]);
  return {
    value,
    change: (part) => {
      take({ ...latest.current, ...part });
      void keep(key, latest.current);
    },
    clear: () => {
      take(empty);
      void forget(key);
    },
  };
}

/** A store that fails here still leaves the text on the screen; a failing save tells of itself. */
const quietly = <R>(work: Promise<R>): Promise<R | undefined> => work.catch(() => undefined);

const stored = async <T>(key: string): Promise<Partial<T> | undefined> =>
  (await quietly(openStore().db.drafts.get(key)))?.value as Partial<T> | undefined;

const keep = (key: string, value: unknown): Promise<unknown> => quietly(openStore().db.drafts.put({ key, value }));

const forget = (key: string): Promise<unknown> => quietly(openStore().db.drafts.delete(key));

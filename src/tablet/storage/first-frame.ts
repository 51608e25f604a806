import { type LogStamp, stampOf } from './now-row.ts';

/** What the first frame of a long log needs, before the database has answered. */
export interface FirstFrame {
  readonly casting: string;
  readonly stamp: string;
  /** The log is read so soon that a screen which has nothing else of its own kept waits for it. */
  readonly short: boolean;
  /** What the first screen says. */
  readonly state: unknown;
  /** Who had the tablet. */
  readonly person: string | null;
  /** How things are shown. */
  readonly settings: unknown;
  readonly units: unknown;
}

const KEY = 'first frame';

/**
 * The browser gives it at once, where opening a database takes a good part of a cold start. It may be older than the
 * log when the browser was ended: the database says whether it fits, and the frame goes when it does not.
 */
export function readFirstFrame(casting: string): FirstFrame | null {
  const frame = stored();
  return frame?.casting === casting ? frame : null;
}

export const keepFirstFrame = (of: LogStamp, frame: Omit<FirstFrame, 'stamp'>): void =>
  localStorage.setItem(KEY, JSON.stringify({ ...frame, stamp: stampOf(of) }));

/** Takes it away where it was kept for another log than this. */
export function forgetFirstFrame(unless: LogStamp): void {
  const frame = stored();
  if (frame && !fits(frame, unless)) localStorage.removeItem(KEY);
}

/** Puts right what changes without an entry. */
export function amendFirstFrame(change: Partial<Pick<FirstFrame, 'person' | 'settings' | 'units'>>): void {
  const frame = stored();
  if (frame) localStorage.setItem(KEY, JSON.stringify({ ...frame, ...change }));
}

export const fits = (frame: FirstFrame, log: LogStamp): boolean => frame.stamp === stampOf(log);

function stored(): FirstFrame | null {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? 'null') as FirstFrame | null;
  } catch {
    return null;
  }
}

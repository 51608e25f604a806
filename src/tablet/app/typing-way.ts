import type { EntryWay } from '../../../shared/logbook/kinds.ts';

/** Nobody keeps up a key in so many ms over a whole figure; a typing gauge sends one every few. */
const GAUGE_MS = 50;
/** Fewer characters than this tell nothing. */
const LEAST = 3;

/**
 * Follows how a text grows, to tell a gauge that types from a person. The caller gives the times, in ms of any clock.
 */
export class TypingWay {
  private last = '';
  private times: number[] = [];

  /** The text as it now is. */
  text(text: string, at_ms: number): void {
    const grew = text.length === this.last.length + 1 && text.startsWith(this.last);
    if (text === '') this.times = [];
    else if (grew && this.times.length === this.last.length) this.times.push(at_ms);
    // Rubbed out, pasted or changed in the middle: a hand has been at it.
    else this.times = [Number.NEGATIVE_INFINITY];
    this.last = text;
  }

  /** The way in which the text came that Enter ends now. */
  end(at_ms: number): EntryWay {
    const times = [...this.times, at_ms];
    const fast = times.every((time, i) => i === 0 || time - times[i - 1]! <= GAUGE_MS);
    return this.times.length >= LEAST && this.times.length === this.last.length && fast ? 'gauge' : 'keypad';
  }
}

import type { Dice } from './dice.ts';
import type { EventQueue } from './event-queue.ts';
import type { Troubles } from './troubles.ts';

export type Way = 'there' | 'back';

/** Carries messages: it loses, delays, doubles and reorders them, and may be cut one way. */
export class Network {
  private readonly cut = new Set<string>();

  constructor(
    private readonly queue: EventQueue,
    private readonly dice: Dice,
    private readonly troubles: () => Troubles,
    private readonly meet: (trouble: string) => void,
  ) {}

  send(tablet: number, way: Way, deliver: () => void): void {
    const { loss, lostAnswers, doubling, delay_ms } = this.troubles();
    if (this.cut.has(`${tablet} ${way}`)) return;
    if (this.dice.chance(way === 'back' ? loss + lostAnswers : loss)) {
      this.meet(`lost ${way}`);
      return;
    }
    this.queue.in(this.dice.around(delay_ms), deliver);
    if (!this.dice.chance(doubling)) return;
    this.meet('doubled');
    this.queue.in(this.dice.around(4 * delay_ms), deliver);
  }

  cutOff(tablet: number, way: Way): void {
    this.cut.add(`${tablet} ${way}`);
  }

  heal(tablet: number, way: Way): void {
    this.cut.delete(`${tablet} ${way}`);
  }

  /** The text as it arrives: now and then a digit has changed. */
  carried(text: string): string {
    if (!this.dice.chance(this.troubles().corruption)) return text;
    const at = this.dice.whole(0, Math.max(0, text.length - 1));
    return /[0-9]/.test(text[at] ?? '')
      ? `${text.slice(0, at)}${(Number(text[at]) + 1) % 10}${text.slice(at + 1)}`
      : text;
  }
}

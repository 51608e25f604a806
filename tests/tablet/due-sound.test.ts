import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';

/** What was asked of the sound: the loudest gain of each tone, in order. */
let tones: number[] = [];

class Context {
  readonly state = 'running';
  readonly currentTime = 0;
  readonly destination = {};
  resume = async (): Promise<void> => undefined;
  createOscillator() {
    return { frequency: {}, connect: <T>(to: T): T => to, start: () => undefined, stop: () => undefined };
  }
  createGain() {
    const at = tones.push(0) - 1;
    const set = (level: number): void => {
      tones[at] = Math.max(tones[at]!, level);
    };
    return { gain: { setValueAtTime: set, linearRampToValueAtTime: set }, connect: <T>(to: T): T => to };
  }
}

describe('the sound of a due round', () => {
  const page = new EventTarget();
  beforeEach(() => {
    tones = [];
    vi.resetModules();
    vi.stubGlobal('AudioContext', Context);
    vi.stubGlobal('addEventListener', page.addEventListener.bind(page));
  });
  afterEach(() => vi.unstubAllGlobals());

  async function touched() {
    const sound = await import('../../src/tablet/app/due-sound.ts');
    sound.openSoundOnTouch();
    page.dispatchEvent(new Event('pointerdown'));
    return sound;
  }

  it('is three tones, twice, at full loudness; quiet is an eighth of that at most', async () => {
    const { soundDue } = await touched();
    soundDue('loud');
    expect(tones).toEqual(Array.from({ length: 6 }, () => 1));
    tones = [];
    soundDue('quiet');
    expect(tones).toHaveLength(6);
    for (const level of tones) {
      expect(level).toBeGreaterThan(0);
      expect(level).toBeLessThanOrEqual(1 / 8);
    }
  });

  it('is none when it is turned off, or before anybody touched the tablet', async () => {
    const { soundDue } = await touched();
    soundDue('off');
    vi.resetModules();
    const untouched = await import('../../src/tablet/app/due-sound.ts');
    untouched.soundDue('loud');
    expect(tones).toEqual([]);
  });
});

import { signal } from '@preact/signals';
import type { Settings } from './settings.ts';

/** Whether the browser lets this page sound: it wants one tap or key first. */
export const soundReady = signal(false);

let context: AudioContext | null = null;

const LOUDNESS: Readonly<Record<Settings['dueSound'], number>> = { loud: 1, quiet: 0.12, off: 0 };
/** Three rising tones, twice: told apart from a forklift and from the furnace's own alarms. */
const TONES_Hz = [659, 880, 1175];
const TONE_s = 0.22;
const PAUSE_s = 0.35;

/** Opens the sound with the first tap or key of the person; browsers allow it no sooner. */
export function openSoundOnTouch(): void {
  const open = () => {
    context ??= new AudioContext();
    void context.resume().then(() => {
      soundReady.value = context?.state === 'running';
    });
  };
  addEventListener('pointerdown', open);
  addEventListener('keydown', open);
}

/** Sounds that a round is due, as loud as the tablet is set. Without a tap before it stays silent. */
export function soundDue(loudness: Settings['dueSound']): void {
  const level = LOUDNESS[loudness];
  if (context?.state !== 'running' || level === 0) return;
  for (let turn = 0; turn < 2; turn++) {
    for (const [i, hertz] of TONES_Hz.entries())
      tone(context, hertz, level, context.currentTime + turn * (TONES_Hz.length * TONE_s + PAUSE_s) + i * TONE_s);
  }
}

function tone(on: AudioContext, hertz: number, level: number, at_s: number): void {
  const voice = on.createOscillator();
  const gain = on.createGain();
  // Many overtones carry through the noise of a hall.
  voice.type = 'square';
  voice.frequency.value = hertz;
  gain.gain.setValueAtTime(0, at_s);
  gain.gain.linearRampToValueAtTime(level, at_s + 0.01);
  gain.gain.setValueAtTime(level, at_s + TONE_s - 0.03);
  gain.gain.linearRampToValueAtTime(0, at_s + TONE_s);
  voice.connect(gain).connect(on.destination);
  voice.start(at_s);
  voice.stop(at_s + TONE_s);
}

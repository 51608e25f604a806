import { effect } from '@preact/signals';
import { heatInWork, roundsNow } from '../../../shared/logbook/state/rounds.ts';
import { openSoundOnTouch, soundDue } from './due-sound.ts';
import { settings } from './settings.ts';
import { view } from './tablet.ts';
import { now } from './time.ts';

/** Sounds each round once when it falls due, and once more when it becomes late, while the app is open. */
export function watchDueRounds(): void {
  openSoundOnTouch();
  let sounded: string | null = null;
  effect(() => {
    const v = view.value;
    const at_ms = now.value.getTime();
    const heat = v && heatInWork(v);
    if (!heat || heat.ended_ms !== null) return;
    const { current } = roundsNow(heat, at_ms);
    // A round opens a little before its time; it sounds at its time.
    if (!current || at_ms < current.due_ms) return;
    const moment = `${heat.plan.id} ${heat.start_ms} ${current.number} ${at_ms >= current.lateFrom_ms ? 'late' : 'due'}`;
    if (moment === sounded) return;
    sounded = moment;
    soundDue(settings.peek().dueSound);
  });
}

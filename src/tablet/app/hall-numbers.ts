import { signal } from '@preact/signals';

/** Whether the hall's emergency numbers stand over the screen. */
export const numbersShown = signal(false);

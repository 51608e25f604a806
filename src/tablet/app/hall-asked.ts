import { signal } from '@preact/signals';

/** Whether `hall-numbers.tsx` stands over the screen. */
export const hallAsked = signal(false);

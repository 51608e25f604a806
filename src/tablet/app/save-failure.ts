import { signal } from '@preact/signals';

/** Why the last save did not happen; null when all is kept. */
export const saveFailure = signal<string | null>(null);

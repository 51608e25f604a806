/** What newer browsers have for it: a timer that follows from timers waits 4 ms, which adds up. */
const { scheduler } = globalThis as { scheduler?: { postTask?(work: () => void): Promise<void> } };

/** Lets keys, touches and drawing have their turn. */
export const giveWay = (): Promise<void> =>
  scheduler?.postTask?.(() => undefined) ?? new Promise((resolve) => setTimeout(resolve));

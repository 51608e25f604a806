/** What newer browsers have for it: a timer that follows from timers waits 4 ms, which adds up. */
declare const scheduler: { postTask?(work: () => void): Promise<void> } | undefined;

/** Lets keys, touches and drawing have their turn. */
export const giveWay = (): Promise<void> =>
  typeof scheduler !== 'undefined' && scheduler.postTask
    ? scheduler.postTask(() => undefined)
    : new Promise((resolve) => setTimeout(resolve));

/** When the browser has nothing else to do, and in five seconds at the latest. */
export const inIdleTime = (work: () => void): void => {
  if (typeof requestIdleCallback === 'function') requestIdleCallback(work, { timeout: 5_000 });
  else setTimeout(work, 50);
};

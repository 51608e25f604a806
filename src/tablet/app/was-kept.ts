/** Whether an act was kept. Where it was not, the person has been told; where they turned away, nothing was written. */
export const wasKept = (saving: Promise<unknown>): Promise<boolean> =>
  saving.then(
    (answer) => answer !== false,
    () => false,
  );

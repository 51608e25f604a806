/** Does long work with a rest after each piece, so that the screens stay free. */
export async function inPieces(work: Iterable<void>): Promise<void> {
  for (const _piece of work) await new Promise((resolve) => setTimeout(resolve));
}

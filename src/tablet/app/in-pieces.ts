import { giveWay } from '../storage/give-way.ts';

/** So long the screens may wait, ms: about a frame. */
const FRAME_ms = 12;

/** Does long work with a rest whenever a frame's time has gone, so that the screens stay free. */
export async function inPieces<T>(work: Generator<void, T>): Promise<T> {
  for (let rested_ms = performance.now(); ; ) {
    const piece = work.next();
    if (piece.done) return piece.value;
    if (performance.now() - rested_ms < FRAME_ms) continue;
    await giveWay();
    rested_ms = performance.now();
  }
}

/** An angle brought into [0, turn), a turn being 360 degrees unless told. */
export function wrapDeg(angle: number, turn = 360): number {
  const rest = angle % turn;
  const wrapped = rest < 0 ? rest + turn : rest;
  // A hair below a turn may round up to it; + 0 turns −0 into 0.
  return wrapped >= turn ? 0 : wrapped + 0;
}

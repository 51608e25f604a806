import { useEffect, useState } from 'preact/hooks';

/** False while a part is drawn for the first time, true once that was painted: what can come a frame later waits for it. */
export function useAfterFrame(): boolean {
  const [painted, paint] = useState(false);
  useEffect(() => paint(true), []);
  return painted;
}

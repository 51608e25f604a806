/**
 * A network by brute force, which shares no pass with the code under test: each link is tried on its own, and starts
 * are moved until none of them moves any more.
 */

export type LinkType = 'FS' | 'SS' | 'FF' | 'SF';
export interface Activity {
  id: string;
  duration: number;
  after: { id: string; type: LinkType; lag: number }[];
}

/** Whether a set of starts keeps every link, the beginning and the end. */
export function holds(activities: Activity[], start: Map<string, number>, end: number): boolean {
  const duration = new Map(activities.map((a) => [a.id, a.duration]));
  return activities.every((a) => {
    const s = start.get(a.id)!;
    const links = a.after.every((l) => {
      const from = start.get(l.id)! + (l.type === 'FS' || l.type === 'FF' ? duration.get(l.id)! : 0);
      const to = s + (l.type === 'FF' || l.type === 'SF' ? a.duration : 0);
      return to >= from + l.lag;
    });
    return links && s >= 0 && s + a.duration <= end;
  });
}

/** Earliest starts by relaxing every link until nothing moves; `fixed` holds one activity back. */
export function relax(activities: Activity[], fixed?: { id: string; at: number }): Map<string, number> {
  const start = new Map(activities.map((a) => [a.id, a.id === fixed?.id ? fixed.at : 0]));
  const duration = new Map(activities.map((a) => [a.id, a.duration]));
  for (let moved = true; moved; ) {
    moved = false;
    for (const a of activities) {
      for (const l of a.after) {
        const from = start.get(l.id)! + (l.type === 'FS' || l.type === 'FF' ? duration.get(l.id)! : 0);
        const least = from + l.lag - (l.type === 'FF' || l.type === 'SF' ? a.duration : 0);
        if (least > start.get(a.id)!) {
          start.set(a.id, least);
          moved = true;
        }
      }
    }
  }
  return start;
}

/** Things to come, by virtual time; of two at one time the one that was set first comes first. A binary heap. */
export class EventQueue {
  now_ms = 0;
  private readonly heap: { readonly at_ms: number; readonly n: number; readonly run: () => void }[] = [];
  private n = 0;

  in(delay_ms: number, run: () => void): void {
    const { heap } = this;
    heap.push({ at_ms: this.now_ms + Math.max(0, delay_ms), n: this.n++, run });
    for (let i = heap.length - 1; i > 0; ) {
      const parent = (i - 1) >> 1;
      if (!this.isBefore(i, parent)) break;
      this.swap(i, parent);
      i = parent;
    }
  }

  get nextAt_ms(): number {
    return this.heap[0]?.at_ms ?? Number.POSITIVE_INFINITY;
  }

  /** Runs the next one; false when there is none. */
  step(): boolean {
    const { heap } = this;
    const first = heap[0];
    if (!first) return false;
    const last = heap.pop()!;
    if (heap.length > 0) {
      heap[0] = last;
      this.sink();
    }
    this.now_ms = first.at_ms;
    first.run();
    return true;
  }

  private sink(): void {
    for (let i = 0; ; ) {
      const left = 2 * i + 1;
      if (left >= this.heap.length) return;
      const child = left + 1 < this.heap.length && this.isBefore(left + 1, left) ? left + 1 : left;
      if (!this.isBefore(child, i)) return;
      this.swap(child, i);
      i = child;
    }
  }

  private isBefore(i: number, j: number): boolean {
    const [a, b] = [this.heap[i]!, this.heap[j]!];
    return a.at_ms < b.at_ms || (a.at_ms === b.at_ms && a.n < b.n);
  }

  private swap(i: number, j: number): void {
    [this.heap[i], this.heap[j]] = [this.heap[j]!, this.heap[i]!];
  }
}

import { afterEach, describe, expect, it, vi } from 'vitest';
import { FileFault } from '../../shared/logger/file-fault.ts';
import {
  LoggerBeside,
  type LoggerQuestion,
  type NumberedAnswer,
} from '../../src/tablet/storage/logger/logger-beside.ts';

/** A worker that answers when the test says so. */
class Held {
  static last: Held;
  onmessage: ((event: { data: NumberedAnswer }) => void) | null = null;
  onerror: ((event: { message: string }) => void) | null = null;
  readonly asked: LoggerQuestion[] = [];

  constructor() {
    Held.last = this;
  }
  postMessage(question: LoggerQuestion): void {
    this.asked.push(question);
  }
  answer(at: number, answer: { result: unknown } | { done: number; of: number } | { error: string }): void {
    this.onmessage!({ data: { ask: this.asked[at]!.ask, ...answer } });
  }
}

afterEach(() => vi.unstubAllGlobals());

function beside(): { beside: LoggerBeside; worker: Held } {
  vi.stubGlobal('Worker', Held);
  const made = new LoggerBeside();
  return { beside: made, worker: Held.last };
}

const file = new File(['time;a\n'], 'a.csv');
const mapping = { columns: [] } as never;

describe('the worker that reads logger files', () => {
  it('answers each ask with its own answer, in whichever order they come', async () => {
    const { beside: asked, worker } = beside();
    const progress: number[] = [];
    const look = asked.look(file, [], ',');
    const report = asked.read(file, mapping, 0, (done) => progress.push(done));
    worker.answer(0, { done: 3, of: 7 });
    worker.answer(1, { done: 5, of: 7 });
    worker.answer(0, { result: 'the look' });
    worker.answer(1, { result: 'the report' });
    expect([await look, await report]).toEqual(['the look', 'the report']);
    expect(progress).toEqual([5]);
  });

  it('fails the ask that failed, and every one that waits where the worker breaks', async () => {
    const { beside: asked, worker } = beside();
    const first = asked.look(file, []);
    const second = asked.read(file, mapping, 0, () => {});
    worker.onmessage!({
      data: { ask: worker.asked[0]!.ask, fault: { code: 'empty', message: 'The file holds nothing.' } },
    });
    await expect(first).rejects.toBeInstanceOf(FileFault);
    worker.onerror!({ message: 'The worker broke' });
    await expect(second).rejects.toThrow('The worker broke');
  });
});

// @vitest-environment happy-dom
import { act, cleanup, renderHook } from '@testing-library/preact';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { View } from '../../shared/logbook/state/view.ts';
import { type Look, lookAt } from '../../shared/logger/look.ts';
import type { Delimiter, LoggerMapping } from '../../shared/logger/mapping.ts';
import type { LoggerReport } from '../../shared/logger/report.ts';
import type { MappingDraft } from '../../src/tablet/screens/heat/mapping-draft.ts';

interface Asked {
  readonly parted?: Delimiter | undefined;
  readonly mapping?: LoggerMapping;
  readonly answer: (result: Look | LoggerReport) => void;
}

const world = vi.hoisted(() => ({
  asked: [] as unknown[],
  draft: null as unknown,
  taken: [] as unknown[],
}));

vi.mock('../../src/tablet/storage/logger/logger-beside.ts', () => ({
  LoggerBeside: class {
    look = (_file: File, _ids: string[], parted?: Delimiter) =>
      new Promise((answer) => world.asked.push({ parted, answer }));
    read = (_file: File, mapping: LoggerMapping) => new Promise((answer) => world.asked.push({ mapping, answer }));
    end = () => undefined;
  },
}));
vi.mock('../../src/tablet/app/use-draft.ts', () => ({
  useDraft: () => ({
    value: world.draft,
    latest: () => world.draft,
    change: (part: object) => {
      world.draft = { ...(world.draft as object), ...part };
    },
  }),
}));
vi.mock('../../src/tablet/app/who.ts', () => ({ someone: async () => ({ id: 'a' }) }));
vi.mock('../../src/tablet/acts/logger.ts', () => ({
  takeLoggerFile: async (_beside: unknown, file: unknown) => {
    world.taken.push(file);
    return {};
  },
}));

import { useLoggerFile } from '../../src/tablet/screens/heat/use-logger-file.ts';

const asked = (at: number): Asked => world.asked[at] as Asked;
/** Answers, and lets all that follows from it happen: a task begins only when no promise waits to go on. */
const answer = (at: number, result: Look | LoggerReport) =>
  act(async () => {
    asked(at).answer(result);
    await new Promise((resolve) => setImmediate(resolve));
  });
const text = 'time;CR-1\n2026-03-01T00:00Z;600\n';
const channels = [{ id: 'CR-1', unit: '°C' }];
const view = { plan: { channels } } as unknown as View;

beforeEach(() => {
  const draft: MappingDraft = { columnsOf: '', decimalMark: '.', order: '', zone: '', channels: {} };
  Object.assign(world, { asked: [], taken: [], draft });
});
afterEach(cleanup);

it('a look that comes after the reading has begun changes nothing, and the file is kept as it was read', async () => {
  const { result } = renderHook(() => useLoggerFile(view));
  const file = new File([text], 'a.csv');
  await act(() => void result.current.choose(file));
  await answer(0, lookAt(text, 'utf-8', ['CR-1']));
  expect(result.current.step.at).toBe('mapping');
  await act(() => void result.current.part('|'));
  await act(() => void result.current.read());
  const before = world.draft;
  await answer(1, lookAt('time|b\n2026-03-01T00:00Z|1\n', 'utf-8', []));
  expect([result.current.step.at, world.draft]).toEqual(['reading', before]);
  await answer(2, { rows: 1, taken: 1 } as LoggerReport);
  expect(result.current.step.at).toBe('read');
  // The draft goes on to the next file: what was read stays under its own mapping.
  world.draft = { ...(world.draft as object), zone: 'UTC', decimalMark: ',' };
  await act(() => result.current.take());
  expect(world.taken).toEqual([{ file, mapping: asked(2).mapping, report: { rows: 1, taken: 1 } }]);
});

it('of two delimiters that are said one after the other, the later counts', async () => {
  const { result } = renderHook(() => useLoggerFile(view));
  await act(() => void result.current.choose(new File([text], 'a.csv')));
  await answer(0, lookAt(text, 'utf-8', ['CR-1']));
  await act(() => void result.current.part('|'));
  await act(() => void result.current.part(','));
  await answer(2, lookAt('time,c\n2026-03-01T00:00Z,1\n', 'utf-8', []));
  await answer(1, lookAt('time|b\n2026-03-01T00:00Z|1\n', 'utf-8', []));
  const { step } = result.current;
  expect('look' in step && step.look.delimiter).toBe(',');
});

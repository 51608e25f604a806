// @vitest-environment happy-dom
import { signal } from '@preact/signals';
import { cleanup, render, screen } from '@testing-library/preact';
import { act } from 'preact/test-utils';
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { KeptChart } from '../../src/tablet/storage/kept-chart.ts';

const tablet = vi.hoisted(() => ({ logStamp: null as never, view: null as never }));

vi.mock('../../src/tablet/app/tablet.ts', async () => {
  const { signal } = await import('@preact/signals');
  return Object.assign(tablet, {
    logStamp: signal<string | null>(null),
    view: signal<unknown>(null),
    openDatabase: () => ({ casting: 'a' }),
  });
});
vi.mock('../../src/tablet/app/now-shard.ts', () => ({
  nowShard: signal({ frame: { timeZone: 'UTC', dayOne: '2026-03-01' } }),
}));
vi.mock('../../src/tablet/app/reading-log.tsx', () => ({ ReadingLog: () => <p>reading</p> }));
vi.mock('../../src/tablet/app/screen.tsx', () => ({ Screen: ({ children }: { children: unknown }) => children }));
vi.mock('../../src/tablet/screens/heat/chart/use-time-chart.ts', () => ({
  useTimeChart: () => ({ host: { current: null }, shown: { from_ms: 0, to_ms: 1 } }),
}));
vi.mock('../../src/tablet/screens/heat/heat-chart.tsx', () => ({
  HeatChart: ({ kept }: { kept: KeptChart | null }) => <p>{kept ? `lines kept for ${kept.stamp}` : 'no kept lines'}</p>,
}));

import { ChartPlace } from '../../src/tablet/screens/heat/chart-place.tsx';
import { putKeptChart } from '../../src/tablet/storage/kept-chart.ts';

const { logStamp, view } = tablet as unknown as {
  logStamp: { value: string | null };
  view: { value: unknown };
};

afterEach(() => {
  cleanup();
  view.value = null;
});

function keep(stamp: string): void {
  const span = { from_ms: 0, to_ms: 1, column_ms: 1, kept_ms: 0 };
  putKeptChart({ casting: 'a', stamp, group: 'CR', lines: [], heats: [], marks: [], ...span });
}

describe('the place of the chart', () => {
  it('shows what was kept, with the name of its channels, and hands it to the chart of the same log', async () => {
    keep('one');
    logStamp.value = 'one';
    render(<ChartPlace />);
    expect(screen.getByRole('application').getAttribute('aria-label')).toMatch(/^Chart of crown,/);
    await act(() => {
      view.value = { genesis: { timeZone: 'UTC', dayOne: '2026-03-01' } };
    });
    await screen.findByText('lines kept for one');
  });

  it('hands nothing kept to the chart where the database holds another log than was expected', async () => {
    keep('one');
    logStamp.value = 'one';
    render(<ChartPlace />);
    await act(() => {
      logStamp.value = 'two';
      view.value = { genesis: { timeZone: 'UTC', dayOne: '2026-03-01' } };
    });
    await screen.findByText('no kept lines');
  });
});

import { describe, expect, it } from 'vitest';
import { holdState } from '../../shared/logbook/state/holds.ts';
import { measureStates } from '../../shared/logbook/state/measures.ts';
import { measuredOf, stationsAsked } from '../../shared/logbook/state/stations-asked.ts';
import type { Characteristic } from '../../shared/plan/schema.ts';
import { smallPlan } from './small-plan.ts';
import { reading, type TestTablet, tablets, technician } from './world.ts';

const width = smallPlan.characteristics[0]!;
const sampled: Characteristic = { ...width, sampling: { all: false, count: 2, allIn: ['9'], words: '2 in 3' } };
const { stations: _, ...unplaced } = width;
const named = (each: string): Characteristic => ({ ...unplaced, stations: null, each });
const asked = (characteristic: Characteristic, operation = '2', allWithin = true) =>
  stationsAsked(smallPlan, characteristic, operation, allWithin);

describe('the stations that are asked for', () => {
  it('are all that the plan names, or a sample while it is within and the operation takes one', () => {
    expect(asked(width)).toEqual({ stations: ['a', 'b', 'c'], least: 3 });
    expect(asked(sampled).least).toBe(2);
    expect(asked(sampled, '2', false).least).toBe(3);
    expect(asked(sampled, '9').least).toBe(3);
    expect(asked({ ...sampled, sampling: { all: false, count: 50, words: '50' } }).least).toBe(3);
  });

  it('are one of those that are named as they come, and none where there may be no damage', () => {
    expect(asked(named('lot'))).toEqual({ stations: null, least: 1 });
    expect(asked(named('crack'))).toEqual({ stations: null, least: 0 });
    expect(asked(named('chip'))).toEqual({ stations: null, least: 0 });
  });

  it('count only where the plan has them', () => {
    expect(measuredOf(asked(width), new Set(['a', 'elsewhere']))).toBe(1);
    expect(measuredOf(asked(named('lot')), new Set(['lot 1', 'lot 2']))).toBe(2);
  });
});

describe('a hold point and the operation before it', () => {
  /** Whether each of the two says that the characteristic is measured enough. */
  function enough(characteristic: Characteristic, ...stations: string[]) {
    const [tablet] = tablets(['T1']) as [TestTablet];
    for (const station of stations) tablet.write('reading', reading(station, 100), technician, 10);
    const view = { ...tablet.view(), plan: { ...smallPlan, characteristics: [characteristic] } };
    const condition = holdState(view, view.plan.holds[0]!).conditions.find((c) => c.id.startsWith('characteristic/'))!;
    const operation = view.plan.operations.find((o) => o.id === '2')!;
    return [condition.met, measureStates(view, operation)[0]!.enough, condition.words];
  }

  it.each<[string, Characteristic, string[], boolean, string]>([
    ['all stations', width, ['a', 'b', 'c'], true, '3 within'],
    ['one short', width, ['a', 'b'], false, '2 within, 1 not measured'],
    [
      'one that the plan does not name in place of one that it does',
      width,
      ['a', 'b', 'x'],
      false,
      '3 within, 1 not measured',
    ],
    ['a sample', sampled, ['a', 'c'], true, '2 within'],
    ['too small a sample', sampled, ['b'], false, '1 within, 2 not measured'],
    ['a lot', named('lot'), ['lot 1'], true, '1 within'],
    ['no lot', named('lot'), [], false, 'not measured'],
    ['no crack', named('crack'), [], true, 'none recorded'],
    ['a crack', named('crack'), ['crack 1'], true, '1 within'],
  ])('agree on %s', (_name, characteristic, stations, met, words) => {
    expect(enough(characteristic, ...stations)).toEqual([met, met, words]);
  });
});

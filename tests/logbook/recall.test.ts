import { describe, expect, it } from 'vitest';
import type { Body } from '../../shared/logbook/kinds.ts';
import { doubtWords } from '../../shared/logbook/state/doubt-words.ts';
import { findings } from '../../shared/logbook/state/findings.ts';
import { holdState } from '../../shared/logbook/state/holds.ts';
import { stationStates } from '../../shared/logbook/state/readings.ts';
import { recallEffect } from '../../shared/logbook/state/recall-effect.ts';
import { smallPlan } from './small-plan.ts';
import {
  type Line,
  lead,
  quality,
  reading,
  releaseBody,
  sheet,
  type TestTablet,
  tablets,
  technician,
} from './world.ts';

const hold = smallPlan.holds[0]!;
const state = (tablet: TestTablet) => holdState(tablet.view(), hold);
const at = (minute: number): string => new Date(Date.UTC(2026, 2, 1) + minute * 60_000).toISOString();

const line = (instrument: string, calibratedOn: string, foundRight?: boolean): Body<'instrument'> => ({
  instrument,
  class: 'CA',
  name: 'caliper',
  unit: 'mm',
  standardUncertainty: 0.02,
  expansion_per_K: null,
  calibratedOn,
  calibrationDue: '2027-01-01',
  ...(foundRight === undefined ? {} : { foundRight }),
});

const read = (tablet: TestTablet, station: string, minute: number, instrument: string, replaces?: Line): Line =>
  tablet.write('reading', { ...reading(station, 100, technician, replaces?.hash), instrument }, technician, minute);

const recalled: Body<'recall'> = {
  instrument: 'CA-1',
  since: at(11),
  foundAt: at(50),
  words: 'It reads 0.4 mm long.',
};

function sign(tablet: TestTablet, minute: number): void {
  tablet.write('release', releaseBody(tablet, lead.name, 'crew-lead'), lead, minute);
  tablet.write('release', releaseBody(tablet, quality.name, 'quality'), quality, minute);
}

/** Station a was read before the last good check of the caliper, b and c after it; the hold point is released. */
function released(): { tablet: TestTablet; lines: Line[] } {
  const [tablet] = tablets(['T1']) as [TestTablet];
  for (const id of ['CA-1', 'CA-2']) tablet.write('instrument', line(id, '2026-02-01'), lead, 5);
  for (const operation of ['1', '2']) {
    tablet.write('sheet', sheet(operation, { c1: 'yes', c2: 'yes' }), technician, 10);
    tablet.write('operation', { operation, mark: 'finished' }, lead, 20);
  }
  const lines = ['a', 'b', 'c'].map((station, i) => read(tablet, station, 10 + i, 'CA-1'));
  sign(tablet, 30);
  expect(state(tablet).status).toBe('released');
  return { tablet, lines };
}

const verdicts = (tablet: TestTablet) =>
  [...stationStates(tablet.view(), '2', 'width').values()].map((s) => [s.station, s.verdict]);
const ofRecall = (tablet: TestTablet) => findings(tablet.view()).filter((f) => f.rule === 'instrument-bad');

describe('an instrument that was found bad', () => {
  it('says before it is written what would come into question', () => {
    const { tablet } = released();
    expect(recallEffect(tablet.view(), recalled)).toEqual({ readings: 2, operations: ['2'], holds: ['H1'] });
    expect(recallEffect(tablet.view(), { ...recalled, instrument: 'CA-2' }).readings).toBe(0);
  });

  it('puts in question what was read since its last good check, verdicts and hold point with it, and says why', () => {
    const { tablet } = released();
    tablet.write('recall', recalled, technician, 50);
    expect(verdicts(tablet)).toEqual([
      ['a', 'within'],
      ['b', 'not-proven'],
      ['c', 'not-proven'],
    ]);
    const { status, doubts, missing } = state(tablet);
    expect(status).toBe('in-doubt');
    expect(doubts.map((d) => doubtWords(tablet.view(), d))).toEqual(
      expect.arrayContaining([
        'Read with CA-1, found bad since it was signed: reading of width at station b by Technician, on T1',
      ]),
    );
    expect(missing.map((c) => `${c.title}: ${c.words}`)).toEqual(['width: 1 within, 2 not proven']);
    expect(ofRecall(tablet)).toMatchObject([
      {
        title: 'width: 2 readings with CA-1, which was found bad',
        words:
          'Found bad day 1, 00:50; in question is what was read since day 1, 00:11: It reads 0.4 mm long. Measure again with another instrument, or agree a concession.',
        state: 'open',
        severity: 'major',
      },
    ]);
  });

  it('is settled by measuring again with another instrument, and the hold point can be signed again', () => {
    const { tablet, lines } = released();
    tablet.write('recall', recalled, technician, 50);
    for (const [i, station] of ['b', 'c'].entries()) read(tablet, station, 60, 'CA-2', lines[i + 1]);
    expect(ofRecall(tablet)).toMatchObject([{ state: 'closed' }]);
    expect(state(tablet).status).not.toBe('released');
    sign(tablet, 70);
    expect(state(tablet).status).toBe('released');
  });

  it('may stay under a concession of quality, and the hold point can be signed again', () => {
    const { tablet } = released();
    tablet.write('recall', recalled, technician, 50);
    const [found] = ofRecall(tablet);
    tablet.write(
      'disposition',
      {
        finding: found!.id,
        operation: '2',
        decision: 'concession',
        words: 'The error is known and lies inside the limits.',
        limits: 'these two stations',
        customer: { name: 'Customer', how: 'letter', on: '2026-03-01', reference: 'L-1' },
        proposedBy: technician.id,
        name: quality.name,
        role: 'quality',
      },
      quality,
      55,
    );
    expect(state(tablet).missing).toEqual([]);
    sign(tablet, 60);
    expect(state(tablet).status).toBe('released');
  });

  it('is trusted again from the day of its next calibration, not for the time before', () => {
    const { tablet, lines } = released();
    tablet.write('recall', recalled, technician, 50);
    const day = 24 * 60;
    read(tablet, 'b', 30 + day, 'CA-1', lines[1]);
    expect(verdicts(tablet)[1]).toEqual(['b', 'not-proven']);
    tablet.write('instrument', line('CA-1', '2026-03-02'), lead, 40 + day);
    expect(verdicts(tablet)[1]).toEqual(['b', 'within']);
    expect(verdicts(tablet)[2]).toEqual(['c', 'not-proven']);
  });

  it('comes to the same where a calibration found it not right', () => {
    const { tablet } = released();
    tablet.write('instrument', line('CA-1', '2026-03-05', false), lead, 5 * 24 * 60);
    expect(verdicts(tablet).map(([, verdict]) => verdict)).toEqual(['not-proven', 'not-proven', 'not-proven']);
    expect(state(tablet).status).toBe('in-doubt');
  });

  it('does not count once it is struck', () => {
    const { tablet } = released();
    const recall = tablet.write('recall', recalled, technician, 50);
    tablet.write('strike', { target: recall.hash, reason: 'wrong entry' }, lead, 51);
    expect(verdicts(tablet).map(([, verdict]) => verdict)).toEqual(['within', 'within', 'within']);
    expect(ofRecall(tablet)).toEqual([]);
    expect(state(tablet).status).toBe('released');
  });

  it('reaches the other tablet: what was signed there without knowing it falls in doubt', () => {
    const [one, two] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    one.write('instrument', line('CA-1', '2026-02-01'), lead, 5);
    for (const operation of ['1', '2']) {
      one.write('sheet', sheet(operation, { c1: 'yes', c2: 'yes' }), technician, 10);
      one.write('operation', { operation, mark: 'finished' }, lead, 20);
    }
    for (const station of ['a', 'b', 'c']) read(one, station, 12, 'CA-1');
    two.merge(one);
    two.write('recall', recalled, technician, 50);
    sign(one, 60);
    expect(state(one).status).toBe('released');
    one.merge(two);
    two.merge(one);
    expect([state(one).status, state(two).status]).toEqual(['in-doubt', 'in-doubt']);
  });
});

import { describe, expect, it } from 'vitest';
import { type Body, type Kind, kinds, type Photo } from '../../shared/logbook/kinds.ts';
import { holdState } from '../../shared/logbook/state/holds.ts';
import {
  kindsWithPhotos,
  namedBlobs,
  photosAtStation,
  photosOf,
  photosOfFinding,
  wantedPhotos,
} from '../../shared/logbook/state/photos.ts';
import { type Plan, planSchema } from '../../shared/plan/schema.ts';
import { smallPlan } from './small-plan.ts';
import { lead, quality, releaseBody, type TestTablet, tablets, technician } from './world.ts';

const WANTED = 'each crack with a scale';

/** The small plan, whose hold point wants two photos of a crack. */
const plan: Plan = planSchema.parse({
  ...smallPlan,
  operations: smallPlan.operations.map((o) => (o.id === '2' ? { ...o, photos: [WANTED, 'the whole'] } : o)),
  holds: smallPlan.holds.map((h) => ({
    ...h,
    requirements: [...h.requirements, { kind: 'photos', operation: '2', photo: WANTED, least: 2 }],
  })),
});

it('every kind whose body may name photos is read for them, and no other', () => {
  const named = (Object.keys(kinds) as Kind[]).filter((kind) => 'photos' in kinds[kind]._zod.def.shape);
  expect(new Set(named)).toEqual(kindsWithPhotos);
});

let made = 0;
function photo(): Photo {
  made += 1;
  const picture = (c: string) => ({
    hash: c.repeat(60) + `${made}`.padStart(4, '0'),
    bytes: 1000,
    width: 4,
    height: 3,
  });
  return { ...picture('a'), type: 'image/jpeg', small: picture('b') };
}

const ofCrack = (count: number, more: Partial<Body<'photo'>> = {}): Body<'photo'> => ({
  photos: Array.from({ length: count }, photo),
  operation: '2',
  wanted: WANTED,
  ...more,
});

const condition = (tablet: TestTablet) =>
  holdState(tablet.view(), plan.holds[0]!).conditions.find((c) => c.id === `photos/2/${WANTED}`)!;

describe('photos', () => {
  it('meet what a hold point wants when there are as many as it asks for, struck ones left out', () => {
    const [tablet] = tablets(['T1'], plan) as [TestTablet];
    expect(condition(tablet)).toMatchObject({ met: false, count: [0, 2], mend: { to: 'photos', operation: '2' } });
    tablet.write('photo', ofCrack(1), technician, 10);
    // Of another line, and of nothing that is wanted: neither counts for it.
    tablet.write('photo', ofCrack(3, { wanted: 'the whole' }), technician, 11);
    tablet.write('note', { operation: '2', text: 'see there', photos: [photo()] }, technician, 12);
    expect(condition(tablet)).toMatchObject({ met: false, count: [1, 2] });
    const second = tablet.write('photo', ofCrack(1), technician, 13);
    expect(condition(tablet)).toMatchObject({ met: true, count: [2, 2], mend: null });
    tablet.write('strike', { target: second.hash, reason: 'mistyped' }, lead, 14);
    expect(condition(tablet)).toMatchObject({ met: false, count: [1, 2] });
  });

  it('answer the lines of the plan, or words say that there is none to take', () => {
    const [tablet] = tablets(['T1'], plan) as [TestTablet];
    tablet.write('photo', ofCrack(2), technician, 10);
    tablet.write('photo', ofCrack(0, { wanted: 'the whole', words: 'it is covered' }), technician, 11);
    const lines = wantedPhotos(tablet.view(), plan.operations[1]!);
    expect(lines.map(({ wanted, count, none }) => [wanted, count, none])).toEqual([
      [WANTED, 2, false],
      ['the whole', 0, true],
    ]);
    expect(condition(tablet)).toMatchObject({ met: true });
  });

  it('are found at their station and with their finding', () => {
    const [tablet] = tablets(['T1'], plan) as [TestTablet];
    const { hash } = tablet.write(
      'finding',
      { operation: '2', title: 'chip', severity: 'minor', blocks: null, photos: [photo()] },
      technician,
      10,
    );
    tablet.write('photo', { photos: [photo()], operation: '2', finding: hash }, technician, 11);
    tablet.write('photo', { photos: [photo()], operation: '2', characteristic: 'width', station: 'a' }, technician, 12);
    const view = tablet.view();
    expect(photosOf(view, '2')).toHaveLength(2);
    expect(photosOfFinding(view, hash)).toHaveLength(1);
    expect([photosAtStation(view, '2', 'width', 'a').length, photosAtStation(view, '2', 'width', 'b').length]).toEqual([
      1, 0,
    ]);
    expect(namedBlobs(view.log).photos.size).toBe(3);
  });

  it('are evidence: one that the signers had not seen puts a release in doubt, one taken since does not', () => {
    const [first, second] = tablets(['T1', 'T2'], plan) as [TestTablet, TestTablet];
    first.write('photo', ofCrack(2), technician, 10);
    for (const [who, role] of [
      [lead, 'crew-lead'],
      [quality, 'quality'],
    ] as const)
      first.write('release', releaseBody(first, who.name, role), who, 20);
    second.write('photo', ofCrack(1), technician, 15);
    const doubts = (tablet: TestTablet) =>
      [...holdState(tablet.view(), plan.holds[0]!).signatures, ...holdState(tablet.view(), plan.holds[0]!).stale]
        .flatMap((s) => s.doubts)
        .filter((d) => d.entry.entry.kind === 'photo').length;
    first.write('photo', ofCrack(1), technician, 25);
    expect(doubts(first)).toBe(0);
    first.merge(second);
    expect(doubts(first)).toBe(2);
  });
});

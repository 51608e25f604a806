import { describe, expect, it } from 'vitest';
import type { Body } from '../../shared/logbook/kinds.ts';
import { hallOf } from '../../shared/logbook/state/hall.ts';
import { lead, type TestTablet, tablets, technician } from './world.ts';

/** Internal extensions of an invented hall: nobody's telephone. */
const hall = (more: Partial<Body<'hall'>> = {}): Body<'hall'> => ({
  site: 'Test hall',
  numbers: [{ what: 'first aid', number: 'ext. 1' }],
  ...more,
});

describe("the hall's numbers", () => {
  it('are nothing until a keeper enters them', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    expect(hallOf(tablet.view())).toBeNull();
    tablet.write('hall', hall(), technician, 10);
    expect(hallOf(tablet.view())).toBeNull();
    tablet.write('hall', hall(), lead, 10, 'none');
    expect(hallOf(tablet.view())).toBeNull();
    tablet.write('hall', hall({ assembly: 'north gate' }), lead, 11);
    expect(hallOf(tablet.view())).toMatchObject({ assembly: 'north gate', words: null, disagree: false, by: lead.id });
  });

  it('are those entered last, whole', () => {
    const [tablet] = tablets(['T1']) as [TestTablet];
    tablet.write('hall', hall({ words: 'say which door' }), lead, 10);
    tablet.write('hall', hall({ numbers: [{ what: 'fire', number: 'ext. 2' }] }), lead, 20);
    expect(hallOf(tablet.view())).toMatchObject({ numbers: [{ what: 'fire', number: 'ext. 2' }], words: null });
  });

  it('are all shown where two tablets were written to without knowing of each other', () => {
    const [one, two] = tablets(['T1', 'T2']) as [TestTablet, TestTablet];
    const fire = { what: 'fire', number: 'ext. 2' };
    one.write('hall', hall(), lead, 10);
    two.write('hall', hall({ numbers: [fire, { what: 'first aid', number: 'ext. 1' }] }), lead, 11);
    one.merge(two);
    two.merge(one);
    for (const tablet of [one, two]) {
      const found = hallOf(tablet.view());
      expect(found).toMatchObject({ site: 'Test hall', disagree: true });
      expect(found?.numbers.map((n) => n.number).sort()).toEqual(['ext. 1', 'ext. 2']);
    }
    two.write('hall', hall({ numbers: [fire] }), lead, 12);
    expect(hallOf(two.view())).toMatchObject({ numbers: [fire], disagree: false });
  });
});

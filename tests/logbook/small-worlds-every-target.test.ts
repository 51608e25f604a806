import { describe, expect, it } from 'vitest';
import { expectAgreement, explore } from './explore-worlds.ts';

/**
 * The worlds of small-worlds.test.ts where a strike or a re-measure may name each reading that stands, not the newest
 * alone: every order of up to six acts from a start where the station was not measured, of up to five where it was.
 */
describe('two devices and one hold point, whichever reading is struck or replaced', () => {
  it('show released where the entries carry it and nowhere else, not measured yet, up to six acts', () => {
    expectAgreement('not measured, six acts', explore({ measured: false, hasty: false, targets: 'all' }, 6));
  }, 900_000);

  it('show released where the entries carry it and nowhere else, measured before they parted, up to five acts', () => {
    expectAgreement('measured, five acts', explore({ measured: true, hasty: false, targets: 'all' }, 5));
  }, 900_000);

  it('show nothing as released that was signed where the app would have refused, up to four acts', () => {
    const tally = explore({ measured: true, hasty: true, targets: 'all' }, 4);
    expectAgreement('signed hastily too', tally, [
      'a station was outside',
      'a station was not measured',
      'another root',
    ]);
  }, 300_000);

  it('show the same when they are changed about: nothing hangs on which device it is, up to four acts', () => {
    const one = explore({ measured: true, hasty: false, targets: 'newest' }, 4);
    const both = explore({ measured: true, hasty: false, targets: 'newest', apart: true }, 4);
    expectAgreement('each device by its name', both);
    expect(both.orders).toBe(one.orders);
    expect(both.devices).toBeGreaterThan(one.devices);
  }, 300_000);
});

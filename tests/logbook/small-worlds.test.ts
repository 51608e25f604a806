import { describe, expect, it } from 'vitest';
import { type Signed, signedOf } from '../../shared/logbook/state/signatures.ts';
import { expectAgreement, explore, type Shows, shows } from './explore-worlds.ts';
import { hold } from './small-worlds.ts';

/**
 * Two devices that have merged all of each other, and one hold point with one station, measured within before they
 * parted. Every order of up to six acts of either is lived: measure within, measure outside, strike a reading, measure
 * one again (naming it), release as far as the app lets, refuse (while it is not released), merge what the other has
 * (while that is something). A strike or a re-measure names the newest reading here; up to five acts, and from a start
 * without a reading up to six, small-worlds-every-target.test.ts names each that stands.
 *
 * What is not lived: more than one station or hold point, more than two devices, part of the signatures of a release,
 * strikes of releases, refusals and sheets, and signing what the app refuses (that up to four acts, in the other file).
 */
describe('two devices and one hold point, measured before they parted', () => {
  it('show released where the entries carry it and nowhere else, up to six acts', () => {
    expectAgreement(
      'measured, newest reading, six acts',
      explore({ measured: true, hasty: false, targets: 'newest' }, 6),
    );
  }, 900_000);
});

const without =
  (kind: string): Shows =>
  (worlds, lines) =>
    shows(
      worlds,
      lines.filter((line) => line.entry.kind !== kind),
    );

const forgiving =
  (reason: string): Shows =>
  (worlds, lines) => {
    const { outcome, doubts }: Signed = signedOf(worlds.viewOf(lines), hold);
    return outcome === 'released' || (outcome === 'in-doubt' && doubts.every((d) => d.reason === reason));
  };

/** Faults that somebody could write into the rules of sign-off. */
const faults: Readonly<Record<string, Shows>> = {
  'strikes are passed over': forgiving('struck'),
  'what the signer had not seen is passed over': forgiving('came-later'),
  'a refusal is passed over': without('refusal'),
  'the root is not held against what is listed': forgiving('root-differs'),
  'what was outside or missing when it was signed is passed over': forgiving('not-carried'),
  'a re-measure in knowledge of the release puts it in doubt': (worlds, lines) => {
    const { outcome, set } = signedOf(worlds.viewOf(lines), hold);
    const listed = new Set(set?.flatMap((s) => s.release.body.evidence));
    return outcome === 'released' && lines.every((l) => l.entry.kind !== 'reading' || listed.has(l.hash));
  },
  'one signature is enough': (worlds, lines) => signedOf(worlds.viewOf(lines), hold).all.length > 0,
};

describe('the checker', () => {
  it.each(Object.entries(faults))('finds the planted fault: %s', (_, fault) => {
    expect(explore({ measured: true, hasty: true, targets: 'newest' }, 3, fault).wrong.length).toBeGreaterThan(0);
  });
});

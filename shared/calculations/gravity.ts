import { given, type WorkingLine } from './calculation.ts';

/** Standard acceleration of free fall, m/s² (3rd CGPM 1901, ISO 80000-3). */
const STANDARD_GRAVITY_M_S2 = 9.80665;

/** Gravity of the place, m/s², or the standard one where none is given. */
export const gravity_m_s2 = (ofPlace: number | undefined): number => ofPlace ?? STANDARD_GRAVITY_M_S2;

/** Gravity in a working. */
export const gravityLine = (ofPlace: number | undefined): WorkingLine =>
  given(
    'g',
    'gravity',
    gravity_m_s2(ofPlace),
    'm/s²',
    ofPlace === undefined ? 'standard gravity, ISO 80000-3' : 'given',
  );

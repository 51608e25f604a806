import type { Witness } from '../schema.ts';

/** Elapsed hours: 5 working days are a week. */
const FIVE_WORKING_DAYS_H = 7 * 24;
const TEN_WORKING_DAYS_H = 14 * 24;

/** A named party is told and may attend; work may go on. */
export const witnesses: Witness[] = [
  {
    id: 'W01',
    name: 'Tub survey',
    operations: ['2.4'],
    toldAhead: '5 working days',
    notice_h: FIVE_WORKING_DAYS_H,
    mayAttend: "Re-reading of 6 stations of the witness's choice",
    ifAbsent: 'Go on; note the time told.',
  },
  {
    id: 'W02',
    name: 'Test spin',
    operations: ['3.3'],
    toldAhead: '5 working days',
    notice_h: FIVE_WORKING_DAYS_H,
    mayAttend: 'Hand timing of the rate',
    ifAbsent: 'Go on.',
  },
  {
    id: 'W03',
    name: 'Core survey after bake',
    operations: ['7.2'],
    toldAhead: '5 working days',
    notice_h: FIVE_WORKING_DAYS_H,
    mayAttend: '10 cores of own choice',
    ifAbsent: 'Go on; H05 still needs customer.',
  },
  {
    id: 'W04',
    name: 'Loading',
    operations: ['8.2'],
    toldAhead: '5 working days, and 24 h',
    notice_h: FIVE_WORKING_DAYS_H,
    secondNotice_h: 24,
    mayAttend: '20 block numbers, last block',
    ifAbsent: 'Go on.',
  },
  {
    id: 'W05',
    name: 'Spin-up and melt',
    operations: ['9.3', '10.1'],
    toldAhead: '10 working days, and 24 h',
    notice_h: TEN_WORKING_DAYS_H,
    secondNotice_h: 24,
    mayAttend: 'Rate, level',
    ifAbsent: 'Go on, heat does not wait.',
  },
  {
    id: 'W06',
    name: 'Opening',
    operations: ['12.1'],
    toldAhead: '10 working days',
    notice_h: TEN_WORKING_DAYS_H,
    mayAttend: 'First look',
    ifAbsent: 'Wait up to 4 h.',
  },
  {
    id: 'W07',
    name: 'Trial load and lift',
    operations: ['12.4'],
    toldAhead: '5 working days',
    notice_h: FIVE_WORKING_DAYS_H,
    mayAttend: 'Behind the barrier',
    ifAbsent: 'Go on.',
  },
  {
    id: 'W08',
    name: 'Final measurement',
    operations: ['14.1'],
    toldAhead: '10 working days',
    notice_h: TEN_WORKING_DAYS_H,
    mayAttend: 'Any measurement',
    ifAbsent: 'Go on; H12 needs customer.',
  },
];

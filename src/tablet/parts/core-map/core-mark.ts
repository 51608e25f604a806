/** How a core is drawn: the worst of what stands at it, how far it is measured, or that nobody asks for it. */
export type CoreMark = 'outside' | 'not-proven' | 'within' | 'begun' | 'missing' | 'not-asked';

export const coreMarks: readonly CoreMark[] = ['outside', 'not-proven', 'missing', 'begun', 'within', 'not-asked'];

/** The mark in words, as it is read out and stands in the legend. */
export const coreMarkWords: { readonly [M in CoreMark]: string } = {
  outside: 'outside',
  'not-proven': 'not proven',
  missing: 'not measured',
  begun: 'begun',
  within: 'within',
  'not-asked': 'not asked',
};

/** A core on the map, with its centre in mm: +x to 0°, +y to 90°. */
export interface MapCore {
  readonly address: string;
  readonly x_mm: number;
  readonly y_mm: number;
  readonly mark: CoreMark;
  /** Left out by what is looked for. */
  readonly faint: boolean;
}

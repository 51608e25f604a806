import { type FigureForm, formatFigure } from './format-figure.ts';

/** A reading in the figures' face, its unit small behind a thin gap. */
export type FigureProps = FigureForm & {
  /** In `unit`; null is not measured. */
  value: number | null;
  unit?: string | undefined;
  class?: string | undefined;
};

/** Draws one figure; the space before the unit does not break. */
export function Figure({ value, unit, class: extra = '', ...form }: FigureProps) {
  return (
    <span class={`n ${extra}`}>
      {formatFigure(value, form)}
      {unit && value !== null && <span class="u">{`\u202f${unit}`}</span>}
    </span>
  );
}

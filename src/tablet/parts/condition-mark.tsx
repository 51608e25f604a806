/** What a condition that is not measured can be: met, not yet, or standing in the way. */
export type Condition = 'met' | 'not-yet' | 'blocks' | 'not-here';

const DRAWINGS: Record<Condition, string> = {
  met: 'M3 13h20M17 6v14M21.5 6v14',
  'not-yet': 'M3 13h4M11 13h4M19 13h4',
  blocks: 'M3 13h6M17 13h6M13 6v14',
  'not-here': 'M2 13h6M18 13h6M10.5 9.5v7M15.5 9.5v7',
};
const WORDS: Record<Condition, string> = {
  met: 'met',
  'not-yet': 'not yet',
  blocks: 'blocks',
  'not-here': 'not here yet',
};
const COLOURS: Record<Condition, string> = {
  met: '--ink',
  'not-yet': '--ink-3',
  blocks: '--outside',
  'not-here': '--unproven',
};

export type ConditionMarkProps = {
  condition: Condition;
  /** Px; 26 in rows. */
  size?: number | undefined;
  /** The word stands beside it already. */
  decorative?: boolean | undefined;
};

/** A stroke run up to two end stops is met; a dashed one is not yet; a stroke stopped half way blocks. */
export function ConditionMark({ condition, size = 26, decorative }: ConditionMarkProps) {
  return (
    <>
      <svg
        viewBox="0 0 26 26"
        width={size}
        height={size}
        fill="none"
        style={{ stroke: `var(${COLOURS[condition]})`, strokeWidth: 2.4 }}
        aria-hidden="true"
      >
        <path d={DRAWINGS[condition]} />
      </svg>
      {!decorative && <span class="hidden-text">{WORDS[condition]}</span>}
    </>
  );
}

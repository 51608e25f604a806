export type ProgressProps = {
  done: number;
  of: number;
  /** What happens, while nothing can be counted yet. */
  doing: string;
};

/** A rule that fills, with figures. */
export function Progress({ done, of, doing }: ProgressProps) {
  const share = of > 0 ? Math.min(1, done / of) : 0;
  return (
    <div class="start-progress" role="status">
      <span class="start-rule">
        <span style={{ width: `${100 * share}%` }} />
      </span>
      <span>
        {of > 0 ? (
          <>
            <span class="n">{done}</span> of <span class="n">{of}</span> entries written
          </>
        ) : (
          doing
        )}
      </span>
    </div>
  );
}

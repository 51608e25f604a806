import type { ComponentChildren } from 'preact';
import { LimitStrip, type LimitStripProps } from './limit-strip.tsx';
import { type Side, VerdictMark } from './verdict-mark.tsx';
import './station-list.css';

export type StationRow = {
  key: string;
  name: ComponentChildren;
  detail?: ComponentChildren;
  /** As it is to be read, with its unit: a Figure, mostly. */
  reading: ComponentChildren;
  strip: Omit<LimitStripProps, 'size' | 'decorative'>;
  /** Which limit the value is near or past; it turns the mark. */
  side?: Side | undefined;
  current?: boolean | undefined;
  /** A row leads somewhere, or does something, as a whole. */
  href?: string | undefined;
  onChoose?: (() => void) | undefined;
};

export type StationListProps = {
  label: string;
  rows: StationRow[];
  /** S for many and narrow, M for few. */
  size?: 'S' | 'M' | undefined;
};

/** Stations one under another, with reading, strip and verdict; the strips compare since all share one scale. */
export function StationList({ label, rows, size = 'M' }: StationListProps) {
  return (
    <ul class={`rows stations stations-${size}`} aria-label={label}>
      {rows.map((row) => (
        <li key={row.key} class={row.strip.verdict === 'not-proven' ? 'wants-hand' : ''}>
          <Target row={row}>
            <span class="grow">
              <b>{row.name}</b>
              {row.detail && <span class="station-detail small dim">{row.detail}</span>}
            </span>
            <span class="station-reading">{row.reading}</span>
            <LimitStrip {...row.strip} size={size} decorative />
            <VerdictMark verdict={row.strip.verdict} side={row.side} tag={row.strip.verdict === 'outside'} />
          </Target>
        </li>
      ))}
    </ul>
  );
}

function Target({ row, children }: { row: StationRow; children: ComponentChildren }) {
  const current = row.current ? 'true' : undefined;
  if (row.href) {
    return (
      <a class="row" href={row.href} aria-current={current}>
        {children}
      </a>
    );
  }
  if (!row.onChoose) return <div class={`row ${row.current ? 'current' : ''}`}>{children}</div>;
  return (
    <button type="button" class="row" onClick={row.onChoose} aria-current={current}>
      {children}
    </button>
  );
}

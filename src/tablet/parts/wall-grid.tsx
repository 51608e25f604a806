import type { TargetedKeyboardEvent } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { Figure } from './figure.tsx';
import { LimitStrip } from './limit-strip.tsx';
import { stripWords } from './limit-strip-words.ts';
import { useAfterFrame } from './use-after-frame.ts';
import type { Verdict } from './verdict.ts';
import './wall-grid.css';

/** One station of the wall. `value` is in the unit of the limits; the deviation shown is value less nominal. */
export type WallCell = {
  value: number | null;
  verdict: Verdict | null;
  lower: number | null;
  upper: number | null;
  nominal: number;
  guard: number;
};

export type WallGridProps = {
  label: string;
  /** Headings of the columns: "0°", "15°" and so on. */
  columns: string[];
  /** Headings of the rows, the highest first: "700", "500" and so on. */
  rows: string[];
  /** Unit of the row headings, said only: "mm". */
  rowUnit: string;
  unit: string;
  decimals: number;
  /** By row and column. */
  cells: WallCell[][];
  current: { row: number; column: number } | null;
  onChoose: (row: number, column: number) => void;
};

/** As many strips as are drawn with their figures. */
const AT_ONCE = 24;

const STEPS: Record<string, [number, number]> = {
  ArrowUp: [-1, 0],
  ArrowDown: [1, 0],
  ArrowLeft: [0, -1],
  ArrowRight: [0, 1],
};

/** The wall unrolled: a map of stations, each with its deviation and strip. Arrow keys walk, Enter chooses. */
export function WallGrid(props: WallGridProps) {
  const { label, columns, rows, current, onChoose } = props;
  // A large wall shows its figures first, and their strips in the next frame.
  const painted = useAfterFrame();
  const strips = painted || columns.length * rows.length <= AT_ONCE;
  const box = useRef<HTMLDivElement>(null);
  const at = (row: number, column: number) =>
    box.current?.querySelector<HTMLButtonElement>(`[data-at="${row} ${column}"]`) ?? null;

  useEffect(() => {
    const cell = current && at(current.row, current.column)?.closest('td');
    // Only the grid's own box is moved: the page stays at the keypad.
    if (cell) box.current?.scrollTo({ left: cell.offsetLeft - (box.current.clientWidth - cell.offsetWidth) / 2 });
  }, [current?.row, current?.column]);

  const walk = (event: TargetedKeyboardEvent<HTMLButtonElement>, row: number, column: number) => {
    const [down, along] = STEPS[event.key] ?? [0, 0];
    const next = at(row + down, column + along);
    if ((down || along) && next) {
      event.preventDefault();
      next.focus();
    }
  };
  return (
    <div ref={box} class="wall-grid">
      <table aria-label={label} style={{ '--columns': columns.length }}>
        <thead>
          <tr>
            <td />
            {columns.map((column) => (
              <th key={column} class="n" scope="col">
                {column}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((height, row) => (
            <tr key={height}>
              <th class="n" scope="row">
                {height}
                <span class="hidden-text">{` ${props.rowUnit}`}</span>
              </th>
              {columns.map((column, i) => (
                <Cell
                  key={column}
                  {...props}
                  row={row}
                  column={i}
                  strip={strips}
                  onWalk={(event) => walk(event, row, i)}
                  onChoose={() => onChoose(row, i)}
                />
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

type CellProps = Omit<WallGridProps, 'onChoose'> & {
  row: number;
  column: number;
  strip: boolean;
  onWalk: (event: TargetedKeyboardEvent<HTMLButtonElement>) => void;
  onChoose: () => void;
};

function Cell(props: CellProps) {
  const { row, column, rows, columns, cells, current, unit, decimals, rowUnit, strip, onWalk, onChoose } = props;
  const cell = cells[row]?.[column];
  if (!cell) return <td />;
  const chosen = current?.row === row && current.column === column;
  const first = current === null && row === 0 && column === 0;
  const deviation = cell.value === null ? null : cell.value - cell.nominal;
  return (
    <td class={`wall-cell wall-${cell.verdict ?? 'unmeasured'} ${cell.verdict === 'outside' ? 'reversed' : ''}`}>
      <button
        type="button"
        data-at={`${row} ${column}`}
        tabIndex={chosen || first ? 0 : -1}
        aria-current={chosen ? 'true' : undefined}
        aria-label={`${columns[column]} at ${rows[row]} ${rowUnit}: ${stripWords({ ...cell, unit, decimals })}`}
        onKeyDown={onWalk}
        onClick={onChoose}
      >
        <Figure value={deviation} decimals={decimals} signed />
        {strip ? (
          <LimitStrip {...cell} size="S" unit={unit} decimals={decimals} decorative />
        ) : (
          <span class="wall-strip-place" />
        )}
      </button>
    </td>
  );
}

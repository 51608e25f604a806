import type { ComponentChildren } from 'preact';
import { formatDecimalText } from './format-figure.ts';
import { WorkingSymbol } from './working-symbol.tsx';
import './working-table.css';

/** One line of the working: what went in, or what came out and how. */
export type WorkingLine = {
  /** With its index: "t_p", "L_20". */
  symbol: string;
  meaning: string;
  /** A number is written with all its digits; a text as it is, its thousands parted if it is a plain decimal. */
  value: number | string;
  unit: string;
  /** Given where the line is worked out: "L · (1 + α_s (t_s − 20)) / (1 + α_p (t_p − 20))". */
  formula?: string | undefined;
  source: string;
};

export type WorkingTableProps = {
  /** Says what is worked out, for a screen reader. */
  caption: string;
  lines: WorkingLine[];
  /** The standards, and how to work it out again at the desk. */
  foot?: ComponentChildren;
};

/** The working behind a verdict, enough to check it by hand. On paper it is printed in full. */
export function WorkingTable({ caption, lines, foot }: WorkingTableProps) {
  return (
    <div class="working">
      <table>
        <caption class="hidden-text">{caption}</caption>
        <thead class="hidden-text">
          <tr>
            <th scope="col">symbol</th>
            <th scope="col">meaning</th>
            <th scope="col">value</th>
            <th scope="col">source</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <Line key={line.symbol + line.meaning} line={line} />
          ))}
        </tbody>
      </table>
      {foot && <p class="note">{foot}</p>}
    </div>
  );
}

function Line({ line: { symbol, meaning, value, unit, formula, source } }: { line: WorkingLine }) {
  const figure = (
    <span class="working-value">
      <span class="n">{formatDecimalText(String(value))}</span>
      {unit && (
        <span class="u">
          <WorkingSymbol text={unit} />
        </span>
      )}
    </span>
  );
  return (
    <tr>
      <th scope="row">
        <WorkingSymbol text={symbol} />
      </th>
      {formula ? (
        <td colSpan={2}>
          <span class="working-meaning">{meaning}</span>
          <WorkingSymbol text={formula} /> = {figure}
        </td>
      ) : (
        <>
          <td>{meaning}</td>
          <td class="working-figure">{figure}</td>
        </>
      )}
      <td class="working-source">{source}</td>
    </tr>
  );
}

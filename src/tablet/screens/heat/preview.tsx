import { useMemo } from 'preact/hooks';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { FileFault } from '../../../../shared/logger/file-fault.ts';
import type { Look } from '../../../../shared/logger/look.ts';
import type { LoggerMapping } from '../../../../shared/logger/mapping.ts';
import { linesWords, reasonWords } from '../../../../shared/logger/report.ts';
import { type Taken, Taking } from '../../../../shared/logger/taking.ts';
import { clockTime, dateIn, dayNumber } from '../../app/time.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { type MappingDraft, readMapping } from './mapping-draft.ts';

const ROWS = 8;
const COLUMNS = 6;

/** The first rows as they would be read: each time in the clock of the hall, each value in its channel's unit. */
export function Preview({ view, look, draft }: { view: View; look: Look; draft: MappingDraft }) {
  const said = readMapping(look, draft);
  const mapping = 'mapping' in said ? said.mapping : null;
  const tried = useMemo(() => mapping && tryOut(look, mapping), [look, JSON.stringify(mapping)]);
  return (
    <Sheet title="The first rows" beside={tried && 'samples' in tried ? 'as they would be read' : 'as they stand'}>
      {tried && 'samples' in tried ? (
        <AsRead view={view} taken={tried} />
      ) : (
        <>
          {tried && <p class="pad field-error">{tried.fault}</p>}
          <AsTheyStand look={look} />
        </>
      )}
    </Sheet>
  );
}

function tryOut(look: Look, mapping: LoggerMapping): Taken | { fault: string } {
  try {
    const taking = new Taking(mapping, Date.now());
    taking.push(look.rows);
    return taking.finish();
  } catch (error) {
    if (error instanceof FileFault) return { fault: error.message };
    throw error;
  }
}

function AsRead({ view, taken: { samples, report } }: { view: View; taken: Taken }) {
  const { timeZone, dayOne } = view.genesis;
  const shown = samples.channels.slice(0, COLUMNS);
  const more = samples.channels.length - shown.length;
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls sideways, and keys must reach it */}
      <div class="chart-scroll" tabIndex={0}>
        <table class="heat-preview">
          <thead>
            <tr>
              <th scope="col">day</th>
              <th scope="col">time in the hall</th>
              {shown.map(({ channel }) => (
                <th key={channel} scope="col">
                  {channel}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {[...samples.times.slice(0, ROWS)].map((at_ms, row) => {
              const at = new Date(at_ms);
              return (
                <tr key={at_ms}>
                  <td class="n">{dayNumber(at, dayOne, timeZone)}</td>
                  <td class="n">
                    {dateIn(at, timeZone)} {clockTime(at, timeZone)}
                  </td>
                  {shown.map(({ channel, values }) => (
                    <td key={channel}>
                      <Figure value={Number.isNaN(values[row]) ? null : values[row]!} decimals={2} />
                    </td>
                  ))}
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      <div class="pad stack-small small">
        {more > 0 && (
          <p>
            And <span class="n">{more}</span> more channels.
          </p>
        )}
        {report.refused.map((r) => (
          <p key={`${r.reason}${r.column}`}>
            {reasonWords(r)}, "{r.example}": lines {linesWords(r.lines, 6)}.
          </p>
        ))}
      </div>
    </>
  );
}

function AsTheyStand({ look }: { look: Look }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls sideways, and keys must reach it
    <div class="chart-scroll" tabIndex={0}>
      <table class="heat-preview">
        <tbody>
          {look.rows.slice(0, ROWS).map(({ line, cells }) => (
            <tr key={line}>
              <th scope="row">line {line}</th>
              {cells.slice(0, COLUMNS + 2).map((cell, i) => (
                <td key={i} class="n">
                  {cell}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

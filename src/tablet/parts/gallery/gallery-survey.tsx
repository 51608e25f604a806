import { useState } from 'preact/hooks';
import { applyKey } from '../apply-key.ts';
import { Figure } from '../figure.tsx';
import { Keypad } from '../keypad.tsx';
import { LimitStrip } from '../limit-strip.tsx';
import { parseFigure } from '../parse-figure.ts';
import { PolarLegend, PolarPlot, type PolarSeries } from '../polar-plot.tsx';
import { ReadingField } from '../reading-field.tsx';
import { Sheet } from '../sheet.tsx';
import { VerdictMark } from '../verdict-mark.tsx';
import { type WallCell, WallGrid } from '../wall-grid.tsx';
import { WorkingTable } from '../working-table.tsx';
import './gallery.css';

const LIMITS = { lower: 3215.74, upper: 3218.74, nominal: 3217.24, guard: 0.34 };
const ANGLES = Array.from({ length: 12 }, (_, i) => 15 * i);
const HEIGHTS: [string, (number | null)[]][] = [
  ['700', ANGLES.map(() => null)],
  ['500', [-0.78, -0.87, -0.67, -0.16, 0.08, 0.63, 0.95, 1.28, null, null, null, null]],
  ['300', [-0.85, -1.93, -1.02, -0.55, -0.02, 0.46, 0.61, 0.63, 0.68, 0.08, -0.06, -0.62]],
  ['100', [-1.24, -1.17, -0.88, -0.76, -0.21, 0.11, 0.28, 0.5, 0.22, 0.04, -0.47, -0.85]],
];

function cellOf(deviation: number | null): WallCell {
  if (deviation === null) return { ...LIMITS, value: null, verdict: null };
  const size = Math.abs(deviation);
  const verdict = size > 1.84 ? 'outside' : size > 1.16 ? 'not-proven' : 'within';
  return { ...LIMITS, value: LIMITS.nominal + deviation, verdict };
}

const SERIES: PolarSeries[] = HEIGHTS.slice(1, 3).map(([name, row], i) => ({
  name: i === 0 ? name : `${name} mm`,
  letter: 'ab'[i]!,
  points: ANGLES.map((angle, j) => ({ angle, deviation: row[j] ?? null })),
}));

/** Keypad, wall, plot and working together, as a survey has them. */
export function GallerySurvey() {
  const [text, setText] = useState('3218.96');
  const [current, setCurrent] = useState({ row: 1, column: 7 });
  const value = parseFigure(text);
  const strip = { ...LIMITS, value: value === null ? null : value - 0.44, verdict: 'not-proven' as const };
  return (
    <>
      <Sheet
        class="gallery-wall"
        title="Wall, unrolled"
        beside={
          <>
            from <Figure value={3217.24} decimals={2} unit="mm" /> at 20 °C
          </>
        }
        aside={
          <span class="gallery-row">
            <span>
              <b class="n">32</b> of 48
            </span>
            <VerdictMark verdict="outside" count={1} side="low" />
            <VerdictMark verdict="not-proven" count={3} />
          </span>
        }
      >
        <WallGrid
          label="Stations of the wall"
          columns={ANGLES.map((angle) => `${angle}°`)}
          rows={HEIGHTS.map(([height]) => height)}
          rowUnit="mm"
          unit="mm"
          decimals={2}
          cells={HEIGHTS.map(([, row]) => row.map(cellOf))}
          current={current}
          onChoose={(row, column) => setCurrent({ row, column })}
        />
      </Sheet>
      <Sheet class="gallery-round" title="Round" aside={<PolarLegend series={SERIES} />}>
        <PolarPlot
          label="Deviations of the tub. At 300 mm the long axis is near 104°."
          lower={-1.5}
          upper={1.5}
          guard={0.34}
          series={SERIES}
          marks={[
            { angle: 105, deviation: 1.28, verdict: 'not-proven' },
            { angle: 15, deviation: -1.93, verdict: 'outside' },
          ]}
          chosen={105}
          diameters
        />
        <p class="note pad">
          Limits ±1.50 mm, magnified. A diameter is drawn at both ends. At 300 mm: long axis near 104°.
        </p>
      </Sheet>
      <Sheet class="gallery-working" title="Working" aside="105° at 500 mm">
        <div class="pad">
          <WorkingTable
            caption="Inner diameter at 20 °C"
            lines={[
              { symbol: 'L', meaning: 'as read', value: '3218.96', unit: 'mm', source: 'typed 14:32' },
              { symbol: 't_p', meaning: 'tub wall', value: '58.2', unit: '°C', source: 'probe P-02' },
              { symbol: 'α_p', meaning: 'tub wall', value: '5.0', unit: '×10^-6/K', source: 'plan C' },
              {
                symbol: 'L_20',
                meaning: 'at 20 °C',
                formula: 'L · (1 + α_s (t_s − 20)) / (1 + α_p (t_p − 20))',
                value: '3218.52',
                unit: 'mm',
                source: 'ISO 1',
              },
              {
                symbol: 'u',
                meaning: 'standard uncertainty',
                formula: '√(0.150² + 0.120² + 0.061²)',
                value: '0.208',
                unit: 'mm',
                source: 'sheet G-07',
              },
            ]}
            foot={
              <>
                ISO 1, ISO 14253-1. At the desk: <span class="n">calc -- length-at-20</span>
              </>
            }
          />
        </div>
      </Sheet>
      <Sheet class="gallery-entry" graduated title="105° at 500 mm" aside="station 20 of 48">
        <div class="pad stack">
          <ReadingField
            label="105° at 500 mm"
            text={text}
            onText={setText}
            onEnter={() => setText('')}
            unit="mm"
            focusKey="105° at 500 mm"
          />
          <div class="gallery-row">
            <span class="small dim">at 20 °C</span>
            <Figure class="gallery-big" value={strip.value} decimals={2} />
            <Figure
              class="gallery-big not-proven"
              value={strip.value === null ? null : strip.value - 3217.24}
              decimals={2}
              signed
            />
          </div>
          <LimitStrip size="L" {...strip} unit="mm" decimals={2} />
          <div class="gallery-row">
            <VerdictMark verdict="not-proven" tag />
            <span class="small grow">Inside the limit by 0.22, guard is 0.34.</span>
          </div>
          <Keypad
            onKey={(key) => setText(applyKey(text, key))}
            onEnter={() => setText('')}
            enterTarget="to 120°"
            extraLabel="Repeat reading"
            onExtra={() => setText('')}
          />
        </div>
      </Sheet>
    </>
  );
}

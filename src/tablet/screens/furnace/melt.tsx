import { useState } from 'preact/hooks';
import { useRoute } from 'preact-iso';
import { MELT_LEVEL, type MeltNow, meltNow, settledLimit_mm, settlingOf } from '../../../../shared/furnace/melt.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { characteristicById } from '../../../../shared/plan/lookup.ts';
import { readFigure } from '../../app/read-figure.ts';
import { Screen } from '../../app/screen.tsx';
import { settings } from '../../app/settings.ts';
import { view } from '../../app/tablet.ts';
import { now } from '../../app/time.ts';
import { shownIn, toPlanUnit, typingUnit } from '../../app/units.ts';
import { formatFigure } from '../../parts/format-figure.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { LevelChart } from './level-chart.tsx';
import { MarkEntry } from './mark-entry.tsx';
import { MeaningsSheet, MeltFigures, meltWord } from './melt-words.tsx';
import { useMark, useMarkDraft } from './use-mark.ts';
import './furnace.css';

/** A reading that is so far from the one before it, or from any that can be, is asked about once; common practice, no source. */
const JUMP_MM = 15;
const ABOVE_CORES = 'cores';

/** The melt watch: the marks read one port after the other, the curve, and the glass accounted for. */
export function MeltScreen() {
  const { operation = '' } = useRoute().params;
  const v = view.value;
  const melt = v && meltNow(v, operation);
  if (!v) return null;
  if (!melt)
    return (
      <Screen place="furnace" name="Melt watch">
        <div class="sheet empty">
          <p>Operation {operation} has no level of glass to read.</p>
          <a class="button" href="/furnace">
            Furnace
          </a>
        </div>
      </Screen>
    );
  return <Watching view={v} melt={melt} />;
}

function Watching({ view, melt }: { view: View; melt: MeltNow }) {
  const characteristic = characteristicById(view.plan, MELT_LEVEL)!;
  const shown = shownIn(characteristic, typingUnit(characteristic.unit, settings.value));
  const now_ms = now.value.getTime();
  const read = melt.ports.some((p) => p.points.length > 0);
  const { name } = view.plan.operations.find((o) => o.id === melt.operation)!;
  return (
    <Screen
      place="furnace"
      name="Melt watch"
      operation={name}
      detail={`operation ${melt.operation}`}
      work="furnace-work"
      keying
    >
      <div class="furnace-hand">
        <LevelEntry view={view} melt={melt} />
      </div>
      <div class="furnace-seen">
        <Sheet
          title="Level"
          beside={`${shown.unit} above the floor${melt.account ? '; tint: what the load should give' : ''}`}
          aside={meltWord(melt)}
        >
          {read ? (
            <LevelChart view={view} melt={melt} shown={shown} now_ms={now_ms} />
          ) : (
            <div class="empty">
              <p>The curves begin with the first level. The tint shows then what the load should give.</p>
            </div>
          )}
        </Sheet>
        <MeaningsSheet view={view} melt={melt} />
        <Sheet title="Worked out">
          <MeltFigures melt={melt} shown={shown} />
        </Sheet>
      </div>
    </Screen>
  );
}

/** Port by port: Enter keeps the level and goes on to the next. */
function LevelEntry({ view, melt }: { view: View; melt: MeltNow }) {
  const { operation, ports, coreTop_mm } = melt;
  const characteristic = characteristicById(view.plan, MELT_LEVEL)!;
  const kept = useMarkDraft(MELT_LEVEL, operation);
  const [at, setAt] = useState(0);
  const port = ports[at]!;
  const next = (at + 1) % ports.length;
  const unit = typingUnit(characteristic.unit, settings.value);
  const shown = shownIn(characteristic, unit);
  const aboveCores = kept.value.mode === ABOVE_CORES;
  const figure = (mm: number) => `${formatFigure(shown.value(mm), { decimals: shown.decimals })} ${shown.unit}`;
  const last = port.points.at(-1);
  const mark = useMark({
    view,
    operation,
    characteristic,
    station: port.station.id,
    label: port.station.label,
    kept,
    read: (text) => {
      const read = readFigure(text, unit, unit);
      if ('fault' in read) return read;
      const mm = toPlanUnit(read.typed.value, unit, characteristic.unit) + (aboveCores ? coreTop_mm : 0);
      // The unit says what the figure is above, so that what was typed can be read again.
      return {
        typed: { text, unit: aboveCores ? `${unit} above the core tops` : unit, value: Number(mm.toPrecision(9)) },
      };
    },
    // While it falls the level is above its limits and is meant to be: they are for a level at rest.
    limited: (level_mm, at_ms) =>
      settlingOf([...port.points, { at_ms, level_mm }], settledLimit_mm(view.plan)).state === 'settled',
    doubt: (mm) => {
      if (last && Math.abs(mm - last.level_mm) > JUMP_MM)
        return `${figure(mm)} is ${formatFigure(shown.span(Math.abs(mm - last.level_mm)), { decimals: shown.decimals })} ${unit} from the last reading here. Enter again to keep it.`;
      if (mm < coreTop_mm - JUMP_MM || mm > melt.edge_mm + 10 * JUMP_MM)
        return `${figure(mm)} above the floor: below the core tops, or over the wall? Enter again to keep it.`;
      return null;
    },
    shown: figure,
    onSaved: () => setAt(next),
  });
  if (!kept.ready) return null;
  return (
    <Sheet
      graduated
      class="round-entry-sheet"
      title={`Port ${port.station.label}`}
      beside={aboveCores ? 'above the core tops' : 'above the floor'}
      aside={last ? <span>last {figure(last.level_mm)}</span> : undefined}
    >
      <fieldset class="port-switch">
        <legend class="hidden-text">Port</legend>
        {ports.map((p, i) => (
          <label key={p.station.id}>
            <input type="radio" name="port" checked={i === at} onChange={() => setAt(i)} />
            <span class="n">{p.station.label}</span>
          </label>
        ))}
      </fieldset>
      <MarkEntry
        view={view}
        mark={mark}
        kept={kept}
        label={`Level at ${port.station.label}`}
        unit={unit}
        focusKey={port.station.id}
        turn={{
          label: aboveCores ? 'From the floor' : 'From the core tops',
          onTurn: () => kept.change({ mode: aboveCores ? '' : ABOVE_CORES }),
        }}
        enterTarget={`to ${ports[next]!.station.label}`}
        hint={
          mark.value !== null && aboveCores
            ? `${figure(mark.value)} above the floor.`
            : `Core tops at the wall: ${figure(coreTop_mm)}.`
        }
      />
    </Sheet>
  );
}

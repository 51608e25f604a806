import type { ComponentChildren } from 'preact';
import type { Kept } from '../../../../shared/logbook/log.ts';
import { controlFigures, meansOf, rateOver } from '../../../../shared/logbook/state/channels.ts';
import { runningHeats } from '../../../../shared/logbook/state/handover/heat-lines.ts';
import { plannedAt } from '../../../../shared/logbook/state/heat.ts';
import { verdictOf } from '../../../../shared/logbook/state/readings.ts';
import { type Heat, roundsNow } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Figure } from '../../parts/figure.tsx';
import { LimitStrip } from '../../parts/limit-strip.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { VerdictMark } from '../../parts/verdict-mark.tsx';

interface Props {
  readonly view: View;
  readonly now_ms: number;
  readonly since: string;
  /** The entries of the shift. */
  readonly fresh: readonly Kept[];
}

/** The shift in figures: how the heat stands to its plan, or how much was measured and how it went. */
export function Figures({ view, now_ms, since, fresh }: Props) {
  const [heat] = runningHeats(view);
  return (
    <Sheet title="The shift in figures" aside={since} class="ho-figures">
      <ul>{heat ? <HeatRows view={view} heat={heat} now_ms={now_ms} /> : <CountRows view={view} fresh={fresh} />}</ul>
    </Sheet>
  );
}

function Row({
  name,
  children,
  beside,
}: {
  name: ComponentChildren;
  children: ComponentChildren;
  beside?: ComponentChildren;
}) {
  return (
    <li>
      <span class="small">{name}</span>
      {children}
      <span class="small dim">{beside}</span>
    </li>
  );
}

function HeatRows({ view, heat, now_ms }: { view: View; heat: Heat; now_ms: number }) {
  const planned = plannedAt(heat, now_ms);
  const { last } = roundsNow(heat, now_ms);
  const at_ms = last ? Date.parse(last.entry.observedAt) : now_ms;
  const control = last ? controlFigures(view, heat, last.body.readings, at_ms) : null;
  const rate = rateOver(meansOf(view, heat, heat.plan.control), at_ms);
  return (
    <>
      <Row
        name="planned now"
        beside={`${(planned.planned_C - planned.band_K).toFixed(1)} to ${(planned.planned_C + planned.band_K).toFixed(1)}`}
      >
        <Figure value={planned.planned_C} decimals={1} unit="°C" />
      </Row>
      {control && (
        <Row
          name="mean off it"
          beside={
            <LimitStrip
              size="M"
              value={control.deviation_K}
              lower={-control.planned.band_K}
              upper={control.planned.band_K}
              nominal={0}
              guard={control.guard_K}
              verdict={control.verdict}
              unit="K"
              decimals={1}
            />
          }
        >
          <Figure value={control.deviation_K} decimals={1} signed unit="K" />
        </Row>
      )}
      {control && (
        <Row
          name="spread"
          beside={
            <LimitStrip
              size="M"
              value={control.spread_K}
              lower={null}
              upper={control.planned.spread_K}
              nominal={null}
              guard={control.guard_K * Math.SQRT2}
              verdict={control.spreadVerdict}
              unit="K"
              decimals={1}
            />
          }
        >
          <Figure value={control.spread_K} decimals={1} unit="K" />
        </Row>
      )}
      <Row name="rate, 4 h" beside={`planned ${planned.rate_K_h.toFixed(1)} K/h`}>
        <Figure value={rate} decimals={1} signed unit="K/h" />
      </Row>
    </>
  );
}

function CountRows({ view, fresh }: { view: View; fresh: readonly Kept[] }) {
  const readings = fresh.filter((k) => k.kind === 'reading') as unknown as Kept<'reading'>[];
  const judged = readings.map((r) => verdictOf(view, r));
  const verdicts = (['within', 'not-proven', 'outside'] as const).map(
    (verdict) => [verdict, judged.filter((v) => v === verdict).length] as const,
  );
  const of = (kind: string) => fresh.filter((k) => k.kind === kind).length;
  return (
    <>
      <Row name="readings" beside="no heat runs">
        <Figure value={readings.length} decimals={0} />
      </Row>
      {verdicts.map(([verdict, n]) => (
        <Row key={verdict} name={<VerdictMark verdict={verdict} />}>
          <Figure value={n} decimals={0} />
        </Row>
      ))}
      <Row name="check sheets" beside={`${of('strike')} struck out`}>
        <Figure value={of('sheet')} decimals={0} />
      </Row>
    </>
  );
}

import { useLocation } from 'preact-iso';
import { spinOperations } from '../../../../shared/furnace/spin.ts';
import { operationAt } from '../../../../shared/logbook/state/round-facts.ts';
import { type Heat, heatInWork, heatOf, roundsNow } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { now } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { AlarmSheet } from '../../shared-screens/alarm-sheet.tsx';
import { LastRound } from '../../shared-screens/last-round.tsx';
import { MissedSheet } from '../../shared-screens/missed-sheet.tsx';
import { OpenArrangements } from '../../shared-screens/open-arrangements.tsx';
import { AnnealSheet } from './anneal-sheet.tsx';
import { FiguresSheet } from './figures-sheet.tsx';
import { HeatLinks } from './heat-links.tsx';
import { HeatMap } from './heat-map.tsx';
import { HeatRecord, HeatsBegun } from './heat-record.tsx';
import { HeatSheet } from './heat-sheet.tsx';
import { MeltSheet } from './melt-sheet.tsx';
import { OffPlan } from './off-plan.tsx';
import { SpinSheet } from './spin-sheet.tsx';
import { StartHeat } from './start-heat.tsx';
import { useLogged } from './use-logged.ts';
import './furnace.css';

/** The heat that runs, or the last one: where it is, what its rounds say, what was missed. */
export function Furnace() {
  const v = view.value;
  const { query } = useLocation();
  if (!v) return null;
  const asked = v.plan.heatPlans.find((plan) => plan.id === query.heat);
  const heat = (asked && heatOf(v, asked)) ?? heatInWork(v);
  if (!heat) return <ColdFurnace view={v} />;
  return <Running key={heat.plan.id} view={v} heat={heat} />;
}

function Running({ view: v, heat }: { view: View; heat: Heat }) {
  const now_ms = now.value.getTime();
  const logged = useLogged(v, heat);
  const { last } = roundsNow(heat, now_ms);
  return (
    <Screen
      place="furnace"
      name="Furnace"
      operation={heat.plan.name}
      detail={`heat ${heat.plan.id} · plan revision ${v.plan.revision}`}
      work="furnace-work"
    >
      <div class="furnace-hand">
        <HeatSheet view={v} heat={heat} now_ms={now_ms} />
        <AlarmSheet view={v} heat={heat} />
        <AnnealSheet view={v} heat={heat} now_ms={now_ms} logged={logged} />
        <MeltSheet view={v} heat={heat} />
        <SpinSheet view={v} heat={heat} operation={spinOperationNow(v, heat, now_ms)} />
        <FiguresSheet view={v} heat={heat} now_ms={now_ms} logged={logged} />
        <MissedSheet view={v} heat={heat} now_ms={now_ms} />
        {last && (
          <Sheet label="Last round">
            <LastRound view={v} heat={heat} round={last} />
          </Sheet>
        )}
        {heat.ended_ms !== null && <StartHeat view={v} />}
        <OpenArrangements view={v} kind="channel" make="Bypass a channel for a time" />
        <HeatRecord view={v} heat={heat} />
        <HeatsBegun view={v} shown={heat} />
        <HeatLinks />
      </div>
      <div class="furnace-seen">
        <OffPlan view={v} heat={heat} now_ms={now_ms} />
        <HeatMap view={v} heat={heat} now_ms={now_ms} />
      </div>
    </Screen>
  );
}

/** The operation under way in which the rate is timed; none while the table need not turn. */
function spinOperationNow(view: View, heat: Heat, now_ms: number): string | undefined {
  if (heat.ended_ms !== null) return undefined;
  const running = operationAt(view, heat, now_ms);
  return spinOperations(view.plan, heat.plan).find((o) => o === running);
}

function ColdFurnace({ view }: { view: View }) {
  return (
    <Screen place="furnace" name="Furnace">
      <div class="sheet empty">
        <p>The furnace is cold. The heat chart and the rounds stand here once a heat is started.</p>
      </div>
      <StartHeat view={view} first />
      <HeatLinks />
    </Screen>
  );
}

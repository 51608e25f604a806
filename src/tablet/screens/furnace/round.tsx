import { useEffect } from 'preact/hooks';
import { useLocation, useRoute } from 'preact-iso';
import { type Heat, type HeatRound, heatOf } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Screen } from '../../app/screen.tsx';
import { view } from '../../app/tablet.ts';
import { clockTime, dateIn } from '../../app/time.ts';
import { useRoundDraft } from './round-draft.ts';
import { RoundEntry } from './round-entry.tsx';
import { useAwake } from './use-awake.ts';
import { useRound } from './use-round.ts';
import { WalkSheet } from './walk-sheet.tsx';
import './furnace.css';

/** One walk past the channels. `?missed=n` types a missed round from paper. */
export function RoundScreen() {
  const { operation = '' } = useRoute().params;
  const { missed } = useLocation().query;
  const v = view.value;
  if (!v) return null;
  const plan = v.plan.heatPlans.find((p) => p.operations.includes(operation));
  const heat = plan ? heatOf(v, plan) : null;
  if (!heat) return <NoHeat operation={operation} />;
  const late = missed === undefined ? null : (heat.rounds.find((r) => String(r.number) === missed) ?? null);
  return <Walking key={`${operation} ${late?.number}`} view={v} heat={heat} operation={operation} missed={late} />;
}

function NoHeat({ operation }: { operation: string }) {
  return (
    <Screen place="furnace" name="Round">
      <div class="sheet empty">
        <p>No heat of operation {operation} has been started: its rounds have no due times yet.</p>
        <a class="button" href="/furnace">
          Furnace
        </a>
      </div>
    </Screen>
  );
}

interface Props {
  readonly view: View;
  readonly heat: Heat;
  readonly operation: string;
  readonly missed: HeatRound | null;
}

function Walking({ view, heat, operation, missed }: Props) {
  const kept = useRoundDraft(heat.plan.id, missed?.number ?? null);
  const { ready, value, change } = kept;
  useEffect(() => {
    // A missed round is typed from paper: the day is known, the true time is to be told.
    if (ready && missed && value.paper === null)
      change({ paper: { date: dateIn(new Date(missed.due_ms), view.genesis.timeZone), time: '' } });
  }, [ready]);
  const round = useRound(view, heat, operation, missed, kept);
  const awake = useAwake();
  const number = (missed ?? round.due)?.number;
  return (
    <Screen
      place="furnace"
      name={number === undefined ? 'Round' : `Round ${number}`}
      operation={heat.plan.name}
      detail={`operation ${operation} · ${dueWords(round.due ?? missed, view.genesis.timeZone)}`}
      work="round-work"
      keying
    >
      {ready && (
        <>
          <RoundEntry round={round} awake={awake} />
          <WalkSheet round={round} />
        </>
      )}
    </Screen>
  );
}

const dueWords = (due: HeatRound | null, timeZone: string): string =>
  due ? `${due.extent} round, due ${clockTime(new Date(due.due_ms), timeZone)}` : 'between the due times';

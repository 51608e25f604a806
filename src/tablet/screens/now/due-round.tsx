import { plannedAt } from '../../../../shared/logbook/state/heat.ts';
import { operationAt } from '../../../../shared/logbook/state/round-facts.ts';
import { type Heat, type HeatRound, heatInWork, roundsNow } from '../../../../shared/logbook/state/rounds.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { now } from '../../app/time.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sign } from '../../parts/icons.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { AlarmSheet } from '../../shared-screens/alarm-sheet.tsx';
import { dueWords } from '../../shared-screens/due-words.ts';
import { LastRound } from '../../shared-screens/last-round.tsx';
import { MissedSheet } from '../../shared-screens/missed-sheet.tsx';
import './due-round.css';

const MINUTE_MS = 60_000;

/** The heat that runs, if one does. */
export function runningHeat(view: View): Heat | null {
  const heat = heatInWork(view);
  return heat?.ended_ms === null ? heat : null;
}

/** The round that is due or comes next, with its dial, the last round, and what was missed. */
export function DueRound({ view, heat, waits }: { view: View; heat: Heat; waits: boolean }) {
  const now_ms = now.value.getTime();
  const rounds = roundsNow(heat, now_ms);
  const { current, next, last } = rounds;
  const round = current ?? next;
  if (!round) return null;
  const operation = operationAt(view, heat, now_ms);
  const planned = plannedAt(heat, Math.max(now_ms, round.due_ms));
  const cautions = view.plan.operations.find((o) => o.id === operation)?.cautions ?? [];
  const names = cautions.flatMap((id) => view.plan.cautions.find((c) => c.id === id)?.name.toLowerCase() ?? []);
  return (
    <>
      <Sheet graduated={!waits} label="Due round" class="due-round">
        <div class="due-top">
          <Dial round={round} now_ms={now_ms} late={now_ms >= round.lateFrom_ms} />
          <div class="now-words due-words">
            <h2>Round {round.number}</h2>
            <p class="now-step">{dueWords(view.genesis, rounds, now_ms)}</p>
            <p>
              Planned <Figure value={planned.planned_C} decimals={1} unit="°C" />, band{' '}
              <span class="n">{(planned.planned_C - planned.band_K).toFixed(0)}</span> to{' '}
              <span class="n">{(planned.planned_C + planned.band_K).toFixed(0)}</span>.
            </p>
            <p class="now-cautions small">
              <Sign sign="warning" />
              <span>
                Cautions: {names.join(', ')}. {view.plan.cautionClosing}
              </span>
            </p>
            <a class={`button wide ${waits ? '' : 'main'}`} href={`/furnace/${operation}/round`}>
              {current ? 'Start the round' : 'Read the channels now'}
            </a>
          </div>
        </div>
        {last && <LastRound view={view} heat={heat} round={last} few />}
      </Sheet>
      <AlarmSheet view={view} heat={heat} />
      <MissedSheet view={view} heat={heat} now_ms={now_ms} />
    </>
  );
}

const R = 88;

/** Sixty minutes on a dial: the hand stands as many minutes before the hour mark as the round is away. */
function Dial({ round, now_ms, late }: { round: HeatRound; now_ms: number; late: boolean }) {
  const minutes = Math.round((round.due_ms - now_ms) / MINUTE_MS);
  const shown = Math.abs(minutes) < 100 ? Math.abs(minutes) : Math.round(Math.abs(minutes) / 60);
  const unit = Math.abs(minutes) < 100 ? (shown === 1 ? 'minute' : 'minutes') : 'hours';
  const word = late ? 'late' : minutes < 0 ? 'ago' : '';
  const angle = -6 * Math.max(-59.9, Math.min(59.9, minutes));
  const at = (deg: number, r: number) =>
    `${(r * Math.sin((deg * Math.PI) / 180)).toFixed(2)} ${(-r * Math.cos((deg * Math.PI) / 180)).toFixed(2)}`;
  const sweep = angle < 0 ? 1 : 0;
  return (
    <svg
      class={`dial ${late ? 'dial-late' : ''}`}
      viewBox="-104 -108 208 212"
      role="img"
      aria-label={`${shown} ${unit} ${word || 'to go'}`}
    >
      <circle r="100" class="dial-face" />
      {Array.from({ length: 60 }, (_, i) => (
        <path key={i} class={i % 5 ? 'dial-tick' : 'dial-mark'} d={`M${at(6 * i, 96)}L${at(6 * i, i % 5 ? 91 : 84)}`} />
      ))}
      {Math.abs(angle) > 0.5 && (
        <path
          class="dial-arc"
          d={`M${at(angle, R)}A${R} ${R} 0 ${Math.abs(angle) > 180 ? 1 : 0} ${sweep} ${at(0, R)}`}
        />
      )}
      <path class="dial-hand" d={`M${at(angle, R)}L${at(angle, 62)}`} />
      <path class="dial-index" d="M-7 -108h14l-7 13z" />
      <text class="dial-number" y="10">
        {shown}
      </text>
      <text class="dial-word" y="36">
        {unit}
      </text>
      <text class="dial-word" y="56">
        {word}
      </text>
    </svg>
  );
}

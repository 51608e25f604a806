import type { Kept } from '../../log.ts';
import { channelsOf, controlFigures, meansOf, rateOver } from '../channels.ts';
import { spoken } from '../findings.ts';
import { plannedAt, segmentWords } from '../heat.ts';
import { operationAt } from '../round-facts.ts';
import { type Heat, type HeatRound, heatOf, roundAbout, roundsNow, statusAt } from '../rounds.ts';
import { live } from '../strikes.ts';
import type { View } from '../view.ts';
import {
  atMost,
  figure,
  type HandoverLine,
  line,
  type Preparing,
  sentence,
  sinceWords,
  type Where,
  when,
} from './preparing.ts';

const HOUR_MS = 3_600_000;
const MISSED_TOLD = 4;

/** Every heat that was begun. */
const heats = (view: View): Heat[] => view.plan.heatPlans.flatMap((plan) => heatOf(view, plan) ?? []);

export const runningHeats = (view: View): Heat[] => heats(view).filter((h) => h.ended_ms === null);

/** Where each running heat stands: by its plan, by its last round, and what its plan wants next. */
export function heatLines(p: Preparing): HandoverLine[] {
  const all = heats(p.view);
  const running = all.filter((h) => h.ended_ms === null);
  if (running.length > 0)
    return running.flatMap((heat) => [planLine(p, heat), ...lastRoundLine(p, heat), thenLine(p, heat)]);
  const last = all.sort((a, b) => b.ended_ms! - a.ended_ms!)[0];
  if (!last) return [line('No heat has been begun.', [], firstHeat(p.view))];
  const { plan, ended_ms, start } = last;
  return [line(`No heat runs. ${plan.id} ${plan.name} ended ${when(p, ended_ms!)}.`, [start])];
}

/** Where the first heat of the plan will begin. */
function firstHeat({ plan }: View): Where {
  const operation = plan.heatPlans[0]?.operations[0];
  return operation === undefined ? { place: 'sequence' } : { operation };
}

function planLine(p: Preparing, heat: Heat): HandoverLine {
  const { plan, start, start_ms } = heat;
  const now = plannedAt(heat, p.now_ms);
  const hour = (p.now_ms - start_ms) / HOUR_MS;
  const band = `${figure(now.planned_C - now.band_K, 1)} to ${figure(now.planned_C + now.band_K, 1)}`;
  const until = when(p, start_ms + now.until_h * HOUR_MS);
  return line(
    `${plan.id} ${plan.name}, hour ${figure(hour, 1)}: segment ${now.segment}, ${segmentWords(plan, now.segment)}, ${figure(now.hour - now.from_h, 1)} h in it, until ${until}. Planned ${figure(now.planned_C, 1)} °C, band ${band}.`,
    [start],
    { operation: operationAt(p.view, heat, p.now_ms) },
  );
}

function lastRoundLine(p: Preparing, heat: Heat): HandoverLine[] {
  const { last } = roundsNow(heat, p.now_ms);
  if (!last) return [line(`No round of ${heat.plan.id} is written.`, [heat.start])];
  const at_ms = Date.parse(last.entry.observedAt);
  const control = controlFigures(p.view, heat, last.body.readings, at_ms);
  const read = `Last round ${when(p, at_ms)}`;
  if (!control) return [line(`${read}: no control channel was read.`, [last])];
  const rate = rateOver(meansOf(p.view, heat, heat.plan.control), at_ms);
  const { counted, of, mean, deviation_K, verdict, spread_K, spreadVerdict, planned } = control;
  const words = [
    `${counted} of ${of} control channels, mean ${figure(mean, 1)} °C, ${figure(deviation_K, 1, true)} K off the plan: ${spoken(verdict)}`,
    `spread ${figure(spread_K, 1)} of ${planned.spread_K} K: ${spoken(spreadVerdict)}`,
    ...(rate === null ? [] : [`rate ${figure(rate, 1, true)} K/h, planned ${figure(planned.rate_K_h, 1, true)}`]),
  ];
  return [line(`${read}: ${words.join('; ')}.`, [last])];
}

function thenLine(p: Preparing, heat: Heat): HandoverLine {
  const now = plannedAt(heat, p.now_ms);
  const { segments } = heat.plan;
  const at = when(p, heat.start_ms + now.until_h * HOUR_MS);
  const words =
    p.now_ms >= heat.planEnds_ms
      ? `Its plan ended ${when(p, heat.planEnds_ms)}; it is not called finished.`
      : now.segment < segments.length
        ? `Next segment ${at}: ${segmentWords(heat.plan, now.segment + 1)}.`
        : `Its plan ends ${at}.`;
  return line(words, [heat.start], { operation: operationAt(p.view, heat, p.now_ms) });
}

/** How the rounds were kept since the last handover, those missed with their reasons, and the next one due. */
export function roundLines(p: Preparing): HandoverLine[] {
  const since_ms = p.since_ms ?? Number.NEGATIVE_INFINITY;
  const begun = heats(p.view);
  const told = begun.filter((h) => h.ended_ms === null || h.ended_ms >= since_ms);
  if (told.length === 0) {
    const starts = begun.map((h) => h.start);
    return [line('No round was due.', starts, starts.length === 0 ? firstHeat(p.view) : {})];
  }
  return told.flatMap((heat) => [...keptLines(p, heat, since_ms), ...nextRoundLine(p, heat)]);
}

function keptLines(p: Preparing, heat: Heat, since_ms: number): HandoverLine[] {
  const status = (r: HeatRound) => statusAt(heat, r, p.now_ms);
  const due = heat.rounds.filter((r) => r.due_ms >= since_ms && r.due_ms <= p.now_ms && status(r) !== 'not due');
  const written = due.flatMap((r) => r.written ?? []);
  const late = due.filter((r) => status(r) === 'written late').length;
  const missed = due.filter((r) => status(r) === 'missed');
  const words = `${heat.plan.id}: ${written.length} of ${due.length} rounds ${sinceWords(p)} written, ${late} of them late, ${missed.length} missed.`;
  return [
    line(words, written.length > 0 ? written : [heat.start]),
    ...atMost(
      MISSED_TOLD,
      missed.toReversed().map((r) => missedLine(p, heat, r)),
    ),
  ];
}

function missedLine(p: Preparing, heat: Heat, round: HeatRound): HandoverLine {
  const notes: Kept<'note'>[] = live(p.view, `note/${roundAbout(heat.plan.id, round.number)}`, 'note');
  const reason = notes.map((n) => n.body.text).join('; ') || 'no reason written';
  return line(
    sentence(`Round ${round.number} missed, due ${when(p, round.due_ms)}: ${reason}`),
    notes.length > 0 ? notes : [heat.start],
  );
}

function nextRoundLine(p: Preparing, heat: Heat): HandoverLine[] {
  if (heat.ended_ms !== null) return [];
  const { current, next, last } = roundsNow(heat, p.now_ms);
  const round = current ?? next;
  if (!round) return [];
  const late = p.now_ms >= round.lateFrom_ms ? ' and late' : '';
  return [
    line(
      `Round ${round.number}, ${round.extent}, ${current ? `was due ${when(p, round.due_ms)}${late}, not written` : `is due ${when(p, round.due_ms)}`}.`,
      [last ?? heat.start],
      { operation: operationAt(p.view, heat, p.now_ms) },
    ),
  ];
}

/** Channels that are not good, and the pair that lies widest apart. */
export function channelLines(p: Preparing): HandoverLine[] {
  return runningHeats(p.view).flatMap((heat) => [...badChannels(p, heat), ...widestPair(p, heat)]);
}

function badChannels(p: Preparing, heat: Heat): HandoverLine[] {
  return channelsOf(p.view, heat)
    .filter((h) => h.state === 'dead' || h.state === 'suspect')
    .map(({ channel, state, since_ms, reason, substitute, readings }) => {
      const from = since_ms === null ? '' : ` since ${when(p, since_ms)}`;
      const stand = substitute ? `; ${substitute} stands in` : '';
      const bad = readings.filter((r) => since_ms !== null && r.at_ms >= since_ms).map((r) => r.entry);
      return line(
        sentence(`${channel.id} ${state}${from}: ${reason ?? 'no reason written'}${stand}`),
        bad.length > 0 ? bad : [heat.start],
      );
    });
}

interface Pair {
  readonly a: string;
  readonly b: string;
  readonly apart_K: number;
}

/** Differences of paired channels in one round, both good. */
function pairsIn(view: View, round: Kept<'round'>): Pair[] {
  const value = new Map(
    round.body.readings.flatMap((r) => (r.state === 'good' && r.value !== null ? [[r.channel, r.value]] : [])),
  );
  return view.plan.channels.flatMap(({ id, pair }) => {
    const [a, b] = [value.get(id), pair === undefined ? undefined : value.get(pair)];
    return a === undefined || b === undefined ? [] : [{ a: id, b: pair!, apart_K: a - b }];
  });
}

function widestPair(p: Preparing, heat: Heat): HandoverLine[] {
  const { last } = roundsNow(heat, p.now_ms);
  const pairs = last ? pairsIn(p.view, last) : [];
  const widest = pairs.toSorted((x, y) => Math.abs(y.apart_K) - Math.abs(x.apart_K))[0];
  if (!last || !widest) return [];
  const first = heat.walked.find((r) => Date.parse(r.entry.observedAt) >= (p.since_ms ?? heat.start_ms));
  const then =
    first && first !== last ? pairsIn(p.view, first).find((x) => x.a === widest.a && x.b === widest.b) : undefined;
  const history = then ? `${figure(then.apart_K, 1, true)} K at ${when(p, first!.entry.observedAt)}, ` : '';
  return [
    line(
      `Widest pair ${widest.a} − ${widest.b}: ${history}${figure(widest.apart_K, 1, true)} K at ${when(p, last.entry.observedAt)}.`,
      then ? [first!, last] : [last],
    ),
  ];
}

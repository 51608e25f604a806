import * as z from 'zod/mini';
import { defineCalculation, figure, given, RefusedInput, type WorkingLine, workedOut } from './calculation.ts';
import { finite, notNegative, positive, temperatureC } from './fields.ts';

const segment = z.strictObject({
  to_C: z.optional(temperatureC()),
  rate_K_h: z.optional(positive('must be greater than 0: the sign follows from to_C')),
  soak_h: z.optional(notNegative('must not be negative: a time')),
});
const input = z.strictObject({
  start_C: temperatureC(),
  segments: z.array(segment).check(z.minLength(1, 'needs at least 1 segment')),
  at_h: z.union([finite(), z.array(finite())], 'must be a finite number or an array of finite numbers'),
});
const output = z.strictObject({
  total_h: z.number(),
  points: z.array(
    z.strictObject({ at_h: z.number(), planned_C: z.number(), segment: z.number(), rate_K_h: z.number() }),
  ),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

export interface HeatPlanSegment {
  start_h: number;
  end_h: number;
  from_C: number;
  to_C: number;
  /** Signed; 0 in a soak. */
  rate_K_h: number;
}

/**
 * The segments of a heat plan laid end to end from hour 0.
 * @throws {RefusedInput} where a segment is neither a ramp nor a soak.
 */
export function heatPlanSegments(start_C: number, segments: Input['segments']): HeatPlanSegment[] {
  let start_h = 0;
  let from_C = start_C;
  return segments.map((s, index) => {
    const isRamp = s.to_C !== undefined && s.rate_K_h !== undefined && s.soak_h === undefined;
    const isSoak = s.to_C === undefined && s.rate_K_h === undefined && s.soak_h !== undefined;
    if (!isRamp && !isSoak) {
      throw new RefusedInput(`segments.${index}`, 'must have either to_C with rate_K_h, or soak_h alone');
    }
    const to_C = s.to_C ?? from_C;
    const hours = s.soak_h ?? Math.abs(to_C - from_C) / (s.rate_K_h as number);
    const end_h = start_h + hours;
    if (!Number.isFinite(end_h)) {
      throw new RefusedInput(`segments.${index}`, 'takes longer than can be computed');
    }
    const laid = { start_h, end_h, from_C, to_C, rate_K_h: Math.sign(to_C - from_C) * (s.rate_K_h ?? 0) + 0 };
    start_h = end_h;
    from_C = to_C;
    return laid;
  });
}

/** Planned temperature at an hour; at a join the later segment counts. */
function pointAt(laid: HeatPlanSegment[], at_h: number, path: string): Output['points'][number] {
  const total_h = laid.at(-1)?.end_h ?? 0;
  // A trace of slack, so that a total or a join worked out elsewhere is not missed for its last digit.
  const slack = 1e-12 * total_h;
  if (at_h < 0 || at_h > total_h + slack) {
    throw new RefusedInput(path, `must lie within the plan, 0 to ${figure(total_h, 12)} h`);
  }
  const inside = Math.min(at_h, total_h);
  const segment = laid.findLastIndex((s) => s.start_h <= inside + slack);
  const { start_h, end_h, from_C, to_C, rate_K_h } = laid[segment] as HeatPlanSegment;
  const planned_C =
    inside >= end_h ? to_C : from_C + (to_C - from_C) * (Math.max(0, inside - start_h) / (end_h - start_h));
  return { at_h, planned_C, segment, rate_K_h };
}

/** Planned temperature, segment and rate at hours of a heat plan. */
export const heatPlan = defineCalculation<Input, Output>({
  name: 'heat-plan',
  title: 'Heat plan',
  group: 'Heat and glass',
  source: 'common practice, no source: straight ramps and soaks laid end to end',
  formula: 'T(t) = T_start ± rate · (t − t_start) in a ramp, T in a soak; hours of a ramp = |to − from| / rate',
  validity: 'What is planned, not what the glass does. At a join the later segment counts.',
  version: 1,
  input,
  output,
  compute(i) {
    const laid = heatPlanSegments(i.start_C, i.segments);
    const points = Array.isArray(i.at_h)
      ? i.at_h.map((at_h, index) => pointAt(laid, at_h, `at_h.${index}`))
      : [pointAt(laid, i.at_h, 'at_h')];
    return { total_h: laid.at(-1)?.end_h ?? 0, points };
  },
  working(i, o) {
    const laid = heatPlanSegments(i.start_C, i.segments);
    const lines: WorkingLine[] = [given('T_start', 'start', i.start_C, '°C')];
    laid.forEach((s, index) => {
      const soak = i.segments[index]?.soak_h;
      lines.push(
        workedOut(
          `t${index}`,
          soak === undefined
            ? `end of segment ${index}, ramp to ${figure(s.to_C)} °C`
            : `end of segment ${index}, soak at ${figure(s.to_C)} °C`,
          s.end_h,
          'h',
          soak === undefined
            ? `${figure(s.start_h)} + |${figure(s.to_C)} − ${figure(s.from_C)}| / ${figure(i.segments[index]?.rate_K_h ?? 0)}`
            : `${figure(s.start_h)} + ${figure(soak)}`,
        ),
      );
    });
    for (const p of o.points) {
      const s = laid[p.segment] as HeatPlanSegment;
      lines.push(
        workedOut(
          `T(${figure(p.at_h)})`,
          `planned at that hour, segment ${p.segment}`,
          p.planned_C,
          '°C',
          `${figure(s.from_C)} + ${figure(s.rate_K_h)} · (${figure(p.at_h)} − ${figure(s.start_h)})`,
        ),
      );
    }
    return lines;
  },
});

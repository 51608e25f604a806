interface Goal {
  to_C?: number;
  rate_K_h?: number;
  soak_h?: number;
}

/**
 * A heat plan walked in small steps, as a controller moves its set point: towards one goal after another, a ramp by
 * its rate and a soak by its clock. It knows no totals and no joins, so it shares nothing with `heat-plan`.
 * @returns the set point in °C at every step from hour 0
 */
export function walkedPlan(start_C: number, goals: readonly Goal[], step_h: number): number[] {
  const course = [start_C];
  for (const { to_C, rate_K_h = 0, soak_h = 0 } of goals) {
    let now = course.at(-1) as number;
    for (let h = 0; h < soak_h; h += step_h) course.push(now);
    while (to_C !== undefined && now !== to_C) {
      const move = Math.min(rate_K_h * step_h, Math.abs(to_C - now));
      now += to_C > now ? move : -move;
      course.push(now);
    }
  }
  return course;
}

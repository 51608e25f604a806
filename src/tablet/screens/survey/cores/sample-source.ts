import { AQLS, LEVELS } from '../../../../../shared/calculations/numeric/sampling-tables.ts';
import { samplingPlan } from '../../../../../shared/calculations/sampling-plan.ts';

export interface SampleSource {
  readonly input: Parameters<typeof samplingPlan.compute>[0];
  readonly sample_size: number;
}

/**
 * The single sampling plan of ISO 2859-1, normal inspection, that accepts none nonconforming and comes nearest to a
 * sample without asking for more; null where none is that small. Of several the usual level first.
 */
export function sampleSource(lot_size: number, count: number): SampleSource | null {
  const levels = ['II', 'III', 'I', ...LEVELS.filter((l) => l.startsWith('S'))] as const;
  const plans = levels.flatMap((level) =>
    AQLS.map((aql_percent) => {
      const input = { lot_size, aql_percent, level: level as (typeof LEVELS)[number] };
      return { input, ...samplingPlan.compute(input) };
    }),
  );
  const fits = plans.filter((p) => p.accept === 0 && p.sample_size <= count);
  const best = Math.max(...fits.map((p) => p.sample_size));
  const found = fits.find((p) => p.sample_size === best);
  return found ? { input: found.input, sample_size: found.sample_size } : null;
}

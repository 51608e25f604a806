import type { Characteristic } from '../../../shared/plan/schema.ts';

/** Where a characteristic is measured: on the furnace what is read again and again while glass is hot, else its survey. */
export function measureHref({ id, operations }: Pick<Characteristic, 'id' | 'operations'>, operation: string): string {
  if (id === 'melt-level') return `/furnace/${operation}/melt`;
  // The first of its operations is the test spin, cold and without a heat.
  if (id === 'spin-rate' && operation !== operations[0]) return `/furnace/${operation}/spin`;
  return `/survey/${operation}/${id}`;
}

import type { Body } from '../kinds.ts';

/** How somebody of the customer agreed to a concession. */
export type Agreement = NonNullable<Body<'disposition'>['customer']>;

/** No calendar is further ahead of UTC. */
const AHEAD_MS = 14 * 3_600_000;

/**
 * What a concession lacks to count, in words; null where nothing. It says how far it goes, and who of the customer
 * agreed, how and on what date: quality gives a concession with the customer, nobody else.
 * @param recordedAt when the disposition was written, ISO 8601: nobody has agreed on a later day
 */
export function concessionLacks(
  { limits, customer }: Pick<Body<'disposition'>, 'limits' | 'customer'>,
  recordedAt: string,
): string | null {
  if (limits === undefined) return 'it does not say how far it goes';
  if (customer === undefined) return 'the customer’s agreement is missing: who agreed, how, and on what date';
  if (customer.how !== 'present' && customer.reference === undefined)
    return `the customer’s ${customer.how} is not named by a reference`;
  if (Date.parse(customer.on) - AHEAD_MS > Date.parse(recordedAt))
    return 'the customer’s agreement bears a date later than the disposition';
  return null;
}

/** The customer's agreement in words: `Sana Wells of the customer, by letter of 2026-03-01, reference L-12`. */
export function agreementWords({ name, how, on, reference }: Agreement): string {
  const way = how === 'present' ? `present on ${on}` : `by ${how} of ${on}`;
  return `${name} of the customer, ${way}${reference ? `, reference ${reference}` : ''}`;
}

/** A verdict after ISO 14253-1: conformity proven, inside the uncertainty, nonconformity proven. */
export type Verdict = 'within' | 'not-proven' | 'outside';

const WORDS: Record<Verdict, string> = { within: 'within', 'not-proven': 'not proven', outside: 'outside' };

/** The word that always stands beside a verdict's mark. */
export function verdictWord(verdict: Verdict | null): string {
  return verdict ? WORDS[verdict] : 'not measured';
}

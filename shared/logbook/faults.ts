import type { Fault } from './standing.ts';

/** What each fault means, for people. */
export const faultWords: { readonly [F in Fault]: string } = {
  gap: 'An entry before it in its chain is not here, or does not fit.',
  fork: 'Its tablet wrote two different entries at one place (a copied or restored tablet). A keeper must adopt one.',
  'unknown-kind': 'A newer version of the app wrote it; this one cannot read it.',
  'tablet-not-admitted': 'No keeper of the roster has admitted its tablet.',
  'tablet-retired': 'Its tablet was retired before the keepers had seen it.',
  'person-not-admitted': 'No keeper of the roster has admitted its writer.',
  'person-retired': 'Its writer was retired before the keepers had seen it.',
  'not-signed': 'It needs a signature and has none.',
  'signature-wrong': 'Its signature does not fit: it was changed, or forged.',
  'key-not-vouched': 'No keeper has vouched for the key that signed it.',
  'key-retired': 'The key that signed it was retired before the keepers had seen it.',
  'role-missing': 'Its writer did not hold the role that it needs.',
};

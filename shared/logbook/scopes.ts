import type { Body, Kind } from './kinds.ts';

/**
 * The small maps of the state that an entry belongs to, by name. A map holds the entries of its scope by hash; maps
 * merge by union, so that a late entry touches only its own.
 */
export const scopes: { readonly [K in Kind]: (body: Body<K>) => readonly string[] } = {
  genesis: () => ['genesis'],
  plan: () => ['plan'],
  person: () => ['roster'],
  key: () => ['roster'],
  device: () => ['roster'],
  request: () => ['request'],
  retirement: () => ['roster'],
  adoption: () => ['roster'],
  instrument: (b) => [`instrument/${b.instrument}`],
  recall: (b) => [`instrument/${b.instrument}`],
  reading: (b) => [
    `reading/${b.operation}/${b.characteristic}`,
    `station/${b.operation}/${b.characteristic}/${b.station}`,
  ],
  sheet: (b) => [`sheet/${b.operation}`],
  check: (b) => [`check/${b.operation}`],
  core: (b) => [`core/${b.station}`, `cores/${b.operation}`],
  'core-change': (b) => [`core/${b.station}`, `cores/${b.operation}`],
  operation: (b) => [`operation/${b.operation}`],
  round: (b) => [`round/${b.operation}`],
  logger: () => ['logger'],
  note: (b) => [`note/${b.about ?? b.operation ?? ''}`],
  photo: (b) => [`photo/${b.operation ?? ''}`, ...(b.finding ? [`photo of/${b.finding}`] : [])],
  finding: (b) => [`finding/${b.operation}`],
  disposition: (b) => [`disposition/${b.operation}`],
  closure: (b) => [`disposition/${b.operation}`],
  strike: (b) => [`strike/${b.target}`],
  release: (b) => [`hold/${b.hold}`],
  refusal: (b) => [`hold/${b.hold}`],
  attestation: (b) => [`attestation/${b.hold}`],
  witness: (b) => [`witness/${b.witness}`],
  handover: () => ['handover'],
  talk: (b) => [`handover/${b.handover}`],
  'handover-answer': (b) => [`handover/${b.handover}`],
  arrangement: (b) => [`arrangement/${b.arrangement}`],
  'arrangement-end': (b) => [`arrangement/${b.arrangement}`],
  hall: () => ['hall'],
};

export const scopesOf = <K extends Kind>(kind: K, body: Body<K>): readonly string[] => scopes[kind](body);

import type { Role } from '../kinds.ts';
import type { Finding, Rule } from './findings.ts';

/** Who looks after a finding until it is closed: a person who was named, else the role that its rule falls to. */
export type FindingOwner = { readonly person: string } | { readonly role: string };

/** Our choice: measurements fall to the process engineer, the order of work to the crew lead, trust to quality. */
const owners: { readonly [R in Rule | 'by-hand']: Role } = {
  outside: 'process-engineer',
  'not-proven': 'process-engineer',
  'derived-outside': 'process-engineer',
  'another-instrument': 'process-engineer',
  alarm: 'process-engineer',
  'answered-no': 'crew-lead',
  'two-readings': 'crew-lead',
  late: 'crew-lead',
  'out-of-sequence': 'crew-lead',
  'finished-short': 'crew-lead',
  'missed-round': 'crew-lead',
  'overdue-arrangement': 'crew-lead',
  'by-hand': 'crew-lead',
  'verdict-differs': 'quality',
  'instrument-out': 'quality',
  'instrument-bad': 'quality',
  'passed-unreleased': 'quality',
  'behind-doubt': 'quality',
};

export const ownerOf = ({ rule, owner, alarm }: Pick<Finding, 'rule' | 'owner' | 'alarm'>): FindingOwner =>
  owner !== undefined ? { person: owner } : { role: alarm?.owner ?? owners[rule] };

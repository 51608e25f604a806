import type { Role } from '../../../shared/logbook/kinds.ts';

const roleNames: { readonly [R in Role]: string } = {
  technician: 'technician',
  'crew-lead': 'crew lead',
  'process-engineer': 'process engineer',
  quality: 'quality',
  customer: 'customer witness',
  keeper: 'keeper of the roster',
};

export const roleName = (role: string): string => (roleNames as Readonly<Record<string, string>>)[role] ?? role;

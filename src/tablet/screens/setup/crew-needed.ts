import type { Hold } from '../../../../shared/plan/schema.ts';

/** As much of a person as the roles of hold points ask about. */
export interface CrewMember {
  readonly id: string;
  readonly roles: readonly string[];
  readonly retired: boolean;
}

type HoldRoles = Pick<Hold, 'id' | 'roles'>;

export interface CrewNeeded {
  /** Roles that hold points ask for and nobody has, with the hold points that ask. */
  readonly roles: readonly { readonly role: string; readonly holds: readonly string[] }[];
  /** Hold points whose roles are all there, but not in different persons. */
  readonly tooFew: readonly string[];
}

/** Who is still needed before every hold point can be signed: each by its roles, in different persons. */
export function crewNeeded(holds: readonly HoldRoles[], people: readonly CrewMember[]): CrewNeeded {
  const crew = people.filter((person) => !person.retired);
  const held = new Set(crew.flatMap((person) => person.roles));
  const asked = [...new Set(holds.flatMap((hold) => hold.roles))];
  return {
    roles: asked
      .filter((role) => !held.has(role))
      .map((role) => ({ role, holds: holds.filter((hold) => hold.roles.includes(role)).map((hold) => hold.id) })),
    tooFew: holds
      .filter((hold) => hold.roles.every((role) => held.has(role)) && !canBeSigned(hold.roles, crew))
      .map((hold) => hold.id),
  };
}

/** Whether every role finds a person of its own. */
function canBeSigned(roles: readonly string[], crew: readonly CrewMember[], taken: readonly string[] = []): boolean {
  const [role, ...rest] = roles;
  if (role === undefined) return true;
  return crew.some(
    (person) =>
      person.roles.includes(role) && !taken.includes(person.id) && canBeSigned(rest, crew, [...taken, person.id]),
  );
}

/** One sentence for the head of the list, or null when the crew is complete. */
export function crewWords(needed: CrewNeeded, holdCount: number, nameOf: (role: string) => string): string | null {
  if (needed.roles.length > 0) {
    const roles = needed.roles.map(({ role, holds }) => `${nameOf(role)} (${shareOf(holds, holdCount)})`);
    return `Still needed for hold points: ${roles.join(', ')}.`;
  }
  if (needed.tooFew.length === 0) return null;
  return `More people are needed: ${needed.tooFew.join(', ')} must be signed by different persons.`;
}

const shareOf = (holds: readonly string[], of: number): string =>
  holds.length === of ? 'for all' : holds.length <= 3 ? `for ${holds.join(', ')}` : `for ${holds.length} of ${of}`;

import { roles as allRoles, type Role } from '../../../../shared/logbook/kinds.ts';
import { roleName } from '../../app/words.ts';
import './fields.css';

export type RoleBoxesProps = {
  legend: string;
  roles: readonly Role[];
  onRoles: (roles: Role[]) => void;
  /** A role that cannot be put down here, and why. */
  fixed?: { role: Role; why: string } | undefined;
};

/** What each role is for, in few words. */
const purposes: { readonly [R in Role]: string } = {
  technician: 'measures, fills check sheets, walks rounds',
  'crew-lead': 'leads the shift, signs hold points',
  'process-engineer': 'answers for heat and glass, signs hold points',
  quality: 'audits, closes findings, signs hold points',
  customer: 'witnesses, signs where the plan asks for it',
  keeper: 'admits people and tablets',
};

/** The roles of a person: any number of them. */
export function RoleBoxes({ legend, roles, onRoles, fixed }: RoleBoxesProps) {
  const toggled = (role: Role) => allRoles.filter((r) => (r === role ? !roles.includes(r) : roles.includes(r)));
  return (
    <fieldset class="role-boxes">
      <legend class="small dim">{legend}</legend>
      {allRoles
        .filter((role) => role !== fixed?.role)
        .map((role) => (
          <label key={role} class="row role-box">
            <input type="checkbox" checked={roles.includes(role)} onChange={() => onRoles(toggled(role))} />
            <span class="grow">
              <b>{roleName(role)}</b> <span class="small dim">{purposes[role]}</span>
            </span>
          </label>
        ))}
      {fixed && (
        <p class="row role-box small">
          <span>
            Also <b>{roleName(fixed.role)}</b>: {fixed.why}
          </span>
        </p>
      )}
    </fieldset>
  );
}

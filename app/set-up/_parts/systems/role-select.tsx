import { POINT_ROLE_IDS, POINT_ROLES, type PointRole } from "#core/set-up/point-role.ts";
import { POINT_ROLE_WORDS } from "#core/set-up/point-role-words.ts";

export const roleLabel = (role: PointRole): string => POINT_ROLE_WORDS[role].label;
const isRole = (text: string): text is PointRole => Object.hasOwn(POINT_ROLES, text);

/** What a point is for, to choose; `guess` is offered first where it is given. */
export function RoleSelect({
  links,
  chosen,
  guess,
  onChange,
}: {
  readonly links: object;
  readonly chosen: PointRole | null;
  readonly guess?: PointRole;
  readonly onChange: (role: PointRole | null) => void;
}) {
  return (
    <select
      {...links}
      value={chosen ?? ""}
      onChange={(e) => onChange(isRole(e.target.value) ? e.target.value : null)}
    >
      {guess !== undefined && <option value="">a guess from its name: {roleLabel(guess)}</option>}
      {POINT_ROLE_IDS.map((each) => (
        <option key={each} value={each}>
          {POINT_ROLE_WORDS[each].label}: {POINT_ROLE_WORDS[each].hint}
        </option>
      ))}
    </select>
  );
}

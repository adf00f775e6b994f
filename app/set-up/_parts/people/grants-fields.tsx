import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import type { GrantView } from "#contract/people.ts";
import { ROLES } from "#core/people/roles.ts";

export interface Places {
  readonly sites: readonly string[];
  readonly systems: readonly { readonly system: string; readonly name: string }[];
}
const placeOf = (grant: GrantView): string =>
  grant.system !== null ? `system:${grant.system}` : grant.site !== null ? `site:${grant.site}` : "";
const grantAt = (role: GrantView["role"], place: string): GrantView => ({
  role,
  site: place.startsWith("site:") ? place.slice(5) : null,
  system: place.startsWith("system:") ? place.slice(7) : null,
});
const WHAT_FOR: Readonly<Record<GrantView["role"], string>> = {
  viewer: "read only",
  aquarist: "bench tests, logbook, acknowledging",
  technician: "also handovers and streams",
  curator: "also bands and systems",
  administrator: "people, tokens, set-up; no records",
};

export const grantWords = (grant: GrantView, places: Places): string => {
  const where =
    grant.system !== null
      ? `at ${places.systems.find((s) => s.system === grant.system)?.name ?? grant.system}`
      : grant.site !== null
        ? `at ${grant.site}`
        : "everywhere";
  return `${grant.role} ${where}`;
};

/** Roles and where each holds. */
export function GrantsFields({
  grants,
  places,
  onChange,
  wrong,
}: {
  readonly grants: readonly GrantView[];
  readonly places: Places;
  readonly onChange: (grants: readonly GrantView[]) => void;
  readonly wrong: string;
}) {
  const put = (i: number, grant: GrantView) => onChange(grants.map((g, j) => (j === i ? grant : g)));
  return (
    <fieldset className={css.grants}>
      <legend>Roles</legend>
      {grants.length === 0 && <p className={css.soft}>No role: this person can sign in but sees nothing.</p>}
      {grants.map((grant, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: two rows may say the same while they are chosen; the place is the row
        <div key={i} className={css.grant}>
          <select
            aria-label={`Role ${i + 1}`}
            value={grant.role}
            onChange={(e) => put(i, { ...grant, role: e.target.value as GrantView["role"] })}
          >
            {ROLES.map((role) => (
              <option key={role} value={role}>
                {role}: {WHAT_FOR[role]}
              </option>
            ))}
          </select>
          <select
            aria-label={`Where role ${i + 1} applies`}
            value={placeOf(grant)}
            onChange={(e) => put(i, grantAt(grant.role, e.target.value))}
          >
            <option value="">everywhere</option>
            {places.sites.map((site) => (
              <option key={site} value={`site:${site}`}>
                site {site}
              </option>
            ))}
            {places.systems.map((s) => (
              <option key={s.system} value={`system:${s.system}`}>
                {s.name}
              </option>
            ))}
          </select>
          <Button
            kind="bare"
            onClick={() => onChange(grants.filter((_, j) => j !== i))}
            aria-label={`Remove role ${i + 1}`}
          >
            remove
          </Button>
        </div>
      ))}
      <Button onClick={() => onChange([...grants, { role: "viewer", site: null, system: null }])}>
        Add a role
      </Button>
      {wrong !== "" && (
        <p className={css.wrong} role="alert">
          {wrong}
        </p>
      )}
    </fieldset>
  );
}

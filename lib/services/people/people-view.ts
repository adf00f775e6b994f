import type { GrantView, MeView, PersonView, TokenView } from "#contract/people.ts";
import { type Grant, mayAnywhere, RIGHTS } from "#core/people/index.ts";
import type { ApiToken, PersonWithGrants } from "#core/people/person.ts";
import type { Actor } from "../deps.ts";
import { type FieldIssue, invalid } from "../errors.ts";
import type { IndexedSetUp } from "../set-up.ts";

/** A grant by short names; what is not set up any more keeps its id. */
export function grantView(grant: Grant, index: IndexedSetUp): GrantView {
  const site = index.setUp.sites.find((row) => row.id === grant.site);
  const system = grant.system === null ? undefined : index.byId.get(grant.system)?.system;
  return { role: grant.role, site: site?.code ?? grant.site, system: system?.code ?? grant.system };
}

interface SentGrant {
  readonly role: Grant["role"];
  readonly site?: string | null | undefined;
  readonly system?: string | null | undefined;
}

/** Grants as sent, by short name, with ids. Throws AppError "invalid" for what is not set up, named twice or for two places at once. */
export function grantsOf(sent: readonly SentGrant[], index: IndexedSetUp): Grant[] {
  const issues: FieldIssue[] = [];
  const grants = sent.map(({ role, site = null, system = null }, i): Grant => {
    const found = {
      site: index.setUp.sites.find((row) => row.code === site),
      at: system === null ? undefined : index.byCode.get(system),
    };
    const add = (field: string, value: string | null, says: string, remedy: string) =>
      issues.push({ field: `grants.${i}.${field}`, value, says, remedy });
    if (site !== null && system !== null)
      add("site", site, "is given together with a system", "give one of them");
    else if (site !== null && !found.site) add("site", site, "is not set up", "use a site's short name");
    else if (system !== null && !found.at)
      add("system", system, "is not set up", "use a system's short name");
    return { role, site: found.site?.id ?? null, system: found.at?.system.id ?? null };
  });
  const keys = grants.map((grant) => JSON.stringify(grant));
  for (const [i, key] of keys.entries())
    if (keys.indexOf(key) < i)
      issues.push({ field: `grants.${i}`, value: null, says: "is given twice", remedy: "leave one out" });
  if (issues.length > 0) throw invalid(issues);
  return grants;
}

const SYNTHETIC = ".invalid";

export function personView(person: PersonWithGrants, index: IndexedSetUp): PersonView {
  const { id, userName, name, email, disabled, mustChange, created, lastSignIn, sessions, grants } = person;
  return {
    id,
    userName,
    name,
    email: email.endsWith(SYNTHETIC) ? null : email,
    grants: grants.map((grant) => grantView(grant, index)),
    disabled,
    mustChangePassword: mustChange,
    created,
    lastSignIn,
    sessions,
  };
}

export function tokenView(token: ApiToken, index: IndexedSetUp): TokenView {
  const { id, name, role, site, system, madeBy, made, expires, revoked } = token;
  return { id, name, grant: grantView({ role, site, system }, index), madeBy, made, expires, revoked };
}

/** Who the actor is and what they may do somewhere. */
export function meView(actor: Actor, userName: string | null, index: IndexedSetUp): MeView {
  return {
    kind: actor.kind,
    id: actor.id,
    name: actor.name,
    userName,
    grants: actor.grants.map((grant) => grantView(grant, index)),
    rights: RIGHTS.filter((right) => mayAnywhere(actor.grants, right)),
    mustChangePassword: actor.mustChange,
  };
}

/** People: reading them, inviting, granting, disabling, ending sessions. Only an administrator, and every change in the audit trail. */
import type { Auth } from "#auth/port.ts";
import {
  grantsRequest,
  type InvitedView,
  inviteRequest,
  type PeopleView,
  type PersonView,
  personReason,
} from "#contract/people.ts";
import type { Grant } from "#core/people/index.ts";
import type { Person, PersonChange, PersonWithGrants } from "#core/people/person.ts";
import { StoreError } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demand } from "../permission.ts";
import { grantsOf, personView } from "./people-view.ts";

export interface PeopleDeps extends WriteDeps {
  readonly auth: Pick<Auth, "hash" | "isPassword" | "limits">;
  readonly oneTimePassword: () => string;
}

const RIGHT = "manage-people";

/** Everybody who has an account. Throws AppError "forbidden". */
export async function readPeople(deps: PeopleDeps, actor: Actor): Promise<PeopleView> {
  demand(actor, RIGHT);
  const [people, index] = await Promise.all([deps.store.readPeople(deps.clock()), deps.setUp.read()]);
  const views = people.map((person) => personView(person, index));
  return { people: views.sort((a, b) => a.name.localeCompare(b.name, "en")) };
}

async function personOf(deps: PeopleDeps, id: string): Promise<PersonWithGrants> {
  const person = await deps.store.readPerson({ id }, deps.clock());
  if (!person) throw notFound("person", id, "GET /api/v1/people lists them.");
  return person;
}

const rowOf = ({ grants: _grants, sessions: _sessions, ...row }: PersonWithGrants): Person => row;

async function viewOf(deps: PeopleDeps, id: string): Promise<PersonView> {
  return personView(await personOf(deps, id), await deps.setUp.read());
}

function write(
  deps: PeopleDeps,
  actor: Actor,
  verb: string,
  change: PersonChange,
  record: Readonly<Record<string, unknown>>,
): Promise<number> {
  const now = deps.clock();
  const { id, userName } = change.person;
  return deps.store.writePerson(
    change,
    now,
    audited(actor, now, verb, `person:${id}`, { userName, ...record }),
  );
}

/** At least one person must be left who can manage people. */
async function refuseLast(
  deps: PeopleDeps,
  id: string,
  grants: readonly Grant[],
  disabled: boolean,
): Promise<void> {
  const isOne = (of: readonly Grant[]) =>
    of.some((grant) => grant.role === "administrator" && grant.site === null && grant.system === null);
  if (!disabled && isOne(grants)) return;
  const others = (await deps.store.readPeople(deps.clock())).filter(
    (person) => person.id !== id && !person.disabled && isOne(person.grants),
  );
  if (others.length === 0)
    throw new AppError(
      "conflict",
      "This is the last administrator: make somebody else an administrator first.",
    );
}

/** Makes an account with a one-time password shown only once. Throws "forbidden", "invalid"; "conflict" where the name is taken. */
export async function invitePerson(deps: PeopleDeps, actor: Actor, body: unknown): Promise<InvitedView> {
  demand(actor, RIGHT);
  const request = parse(inviteRequest, body);
  const grants = grantsOf(request.grants, await deps.setUp.read());
  const now = deps.clock();
  const password = deps.oneTimePassword();
  const expires = now + deps.auth.limits.oneTimeMs;
  const person: Person = {
    id: deps.newId(now),
    userName: request.userName,
    name: request.name,
    email: request.email?.toLowerCase() ?? `${request.userName}@homewater.invalid`,
    disabled: false,
    mustChange: true,
    oneTimeUntil: expires,
    created: now,
    lastSignIn: null,
  };
  const change = { person, grants, passwordHash: await deps.auth.hash(password) };
  await write(deps, actor, "invite-person", change, { name: person.name, grants }).catch((cause: unknown) => {
    if (cause instanceof StoreError && cause.code === "invalid")
      throw new AppError("conflict", "This user name or e-mail address is taken.", {
        issues: [
          { field: "userName", value: request.userName, says: "is taken", remedy: "choose another one" },
        ],
        cause,
      });
    throw cause;
  });
  return { person: await viewOf(deps, person.id), oneTimePassword: password, expires };
}

/** Replaces what somebody may do; takes effect at once in every open session. Throws "forbidden", "not_found", "invalid", "conflict". */
export async function setGrants(
  deps: PeopleDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<PersonView> {
  demand(actor, RIGHT);
  const { grants: sent } = parse(grantsRequest, body);
  const person = await personOf(deps, id);
  const grants = grantsOf(sent, await deps.setUp.read());
  await refuseLast(deps, id, grants, person.disabled);
  await write(
    deps,
    actor,
    "set-grants",
    { person: rowOf(person), grants },
    { before: person.grants, after: grants },
  );
  return viewOf(deps, id);
}

/** Disables an account and ends its sessions at once. Throws "forbidden", "not_found"; "conflict" for the last administrator. */
export async function disablePerson(
  deps: PeopleDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<PersonView> {
  demand(actor, RIGHT);
  const { reason = null } = parse(personReason, body);
  const person = await personOf(deps, id);
  await refuseLast(deps, id, person.grants, true);
  const change = { person: { ...rowOf(person), disabled: true }, endSessions: "all" as const };
  await write(deps, actor, "disable-person", change, { reason });
  return viewOf(deps, id);
}

/** Enables an account again; its password is as before. Throws "forbidden", "not_found". */
export async function enablePerson(
  deps: PeopleDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<PersonView> {
  demand(actor, RIGHT);
  const { reason = null } = parse(personReason, body);
  const person = await personOf(deps, id);
  await write(deps, actor, "enable-person", { person: { ...rowOf(person), disabled: false } }, { reason });
  return viewOf(deps, id);
}

/** Ends every session of somebody; everybody may end their own. Throws "forbidden", "not_found". */
export async function endSessions(
  deps: PeopleDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<PersonView> {
  if (!(actor.kind === "person" && actor.id === id)) demand(actor, RIGHT);
  const { reason = null } = parse(personReason, body);
  const person = await personOf(deps, id);
  await write(deps, actor, "end-sessions", { person: rowOf(person), endSessions: "all" }, { reason });
  return viewOf(deps, id);
}

/** Gives somebody a new one-time password, shown only once, and ends their sessions. Throws "forbidden", "not_found". */
export async function renewPassword(
  deps: PeopleDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<InvitedView> {
  demand(actor, RIGHT);
  const { reason = null } = parse(personReason, body);
  const person = await personOf(deps, id);
  const password = deps.oneTimePassword();
  const expires = deps.clock() + deps.auth.limits.oneTimeMs;
  const change = {
    person: { ...rowOf(person), mustChange: true, oneTimeUntil: expires },
    passwordHash: await deps.auth.hash(password),
    endSessions: "all" as const,
  };
  await write(deps, actor, "renew-password", change, { reason });
  return { person: await viewOf(deps, id), oneTimePassword: password, expires };
}

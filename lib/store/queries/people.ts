import { and, asc, count, eq, gt, isNull, ne, sql } from "drizzle-orm";
import type { NewAudit } from "#core/audit/audit.ts";
import type { ApiToken, Person, PersonChange, PersonWithGrants } from "#core/people/person.ts";
import type { Grant } from "#core/people/roles.ts";
import type { Database } from "../kits/postgres.ts";
import type { Tables } from "../tables/tables.ts";
import { addToAudit } from "./audit.ts";
import { chunks } from "./rows.ts";

/** Where the session library looks for a password. */
const PROVIDER = "credential";
const PEOPLE = "people";

type Row = Tables["person"]["$inferSelect"];
const personOf = (row: Row): Person => ({
  id: row.id,
  userName: row.username,
  name: row.name,
  email: row.email,
  disabled: row.disabled,
  mustChange: row.mustChange,
  oneTimeUntil: row.oneTimeUntil,
  created: row.createdAt,
  lastSignIn: row.lastSignIn,
});

/** Says to every process that what somebody may do has changed. */
export async function moveMark(db: Database, { counter }: Tables): Promise<void> {
  await db
    .update(counter)
    .set({ value: sql`${counter.value} + 1` })
    .where(eq(counter.name, PEOPLE));
}
export async function peopleMark(db: Database, { counter }: Tables): Promise<number> {
  const [row] = await db.select({ value: counter.value }).from(counter).where(eq(counter.name, PEOPLE));
  return row?.value ?? 0;
}

export async function readPeople(db: Database, tables: Tables, now: number): Promise<PersonWithGrants[]> {
  const { person, roleGrant, session } = tables;
  const people = await db.select().from(person).orderBy(asc(person.username));
  const grants = await db.select().from(roleGrant).orderBy(asc(roleGrant.number));
  const sessions = await db
    .select({ person: session.userId, n: count() })
    .from(session)
    .where(gt(session.expiresAt, now))
    .groupBy(session.userId);
  const open = new Map(sessions.map((row) => [row.person, Number(row.n)]));
  return people.map((row) => ({
    ...personOf(row),
    grants: grants.filter((grant) => grant.person === row.id).map(grantOf),
    sessions: open.get(row.id) ?? 0,
  }));
}

const grantOf = ({ role, site, system }: Tables["roleGrant"]["$inferSelect"]): Grant => ({
  role,
  site,
  system,
});

export async function readPerson(
  db: Database,
  tables: Tables,
  by: { readonly id: string } | { readonly userName: string } | { readonly email: string },
  now: number,
): Promise<PersonWithGrants | null> {
  const { person, roleGrant, session } = tables;
  const where =
    "id" in by
      ? eq(person.id, by.id)
      : "userName" in by
        ? eq(person.username, by.userName)
        : eq(person.email, by.email);
  const [row] = await db.select().from(person).where(where);
  if (row === undefined) return null;
  const grants = await db
    .select()
    .from(roleGrant)
    .where(eq(roleGrant.person, row.id))
    .orderBy(asc(roleGrant.number));
  const [open] = await db
    .select({ n: count() })
    .from(session)
    .where(and(eq(session.userId, row.id), gt(session.expiresAt, now)));
  return { ...personOf(row), grants: grants.map(grantOf), sessions: Number(open?.n ?? 0) };
}

/** Whether anybody has an account. */
export async function hasPeople(db: Database, { person }: Tables): Promise<boolean> {
  return (await db.select({ id: person.id }).from(person).limit(1)).length > 0;
}

/** Writes a person with what belongs to them; inside a writing transaction. Gives the number of the audit row. */
export async function writePerson(
  db: Database,
  tables: Tables,
  change: PersonChange,
  now: number,
  audit: NewAudit,
): Promise<number> {
  const { person, credential, roleGrant, session } = tables;
  const { person: given, passwordHash, grants, endSessions } = change;
  const row = {
    username: given.userName,
    name: given.name,
    email: given.email,
    disabled: given.disabled,
    mustChange: given.mustChange,
    oneTimeUntil: given.oneTimeUntil,
    lastSignIn: given.lastSignIn,
    updatedAt: now,
  };
  await db
    .insert(person)
    .values({ ...row, id: given.id, emailVerified: true, image: null, createdAt: given.created })
    .onConflictDoUpdate({ target: person.id, set: row });
  if (passwordHash !== undefined)
    await db
      .insert(credential)
      .values({
        id: `password-${given.id}`,
        accountId: given.id,
        providerId: PROVIDER,
        userId: given.id,
        password: passwordHash,
        createdAt: now,
        updatedAt: now,
      })
      .onConflictDoUpdate({ target: credential.id, set: { password: passwordHash, updatedAt: now } });
  if (grants !== undefined) {
    await db.delete(roleGrant).where(eq(roleGrant.person, given.id));
    for (const rows of chunks(grants, roleGrant))
      await db.insert(roleGrant).values(rows.map((grant) => ({ ...grant, person: given.id })));
  }
  if (endSessions !== undefined) {
    const others = endSessions === "all" ? undefined : ne(session.token, endSessions.but);
    await db.delete(session).where(and(eq(session.userId, given.id), others));
  }
  await moveMark(db, tables);
  return await addToAudit(db, tables, audit);
}

export async function readPasswordHash(
  db: Database,
  { credential }: Tables,
  id: string,
): Promise<string | null> {
  const [row] = await db
    .select({ password: credential.password })
    .from(credential)
    .where(and(eq(credential.userId, id), eq(credential.providerId, PROVIDER)));
  return row?.password ?? null;
}

export async function addToken(
  db: Database,
  tables: Tables,
  token: ApiToken,
  audit: NewAudit,
): Promise<void> {
  await db.insert(tables.apiToken).values(token);
  await addToAudit(db, tables, audit);
}
export async function readTokens(db: Database, { apiToken }: Tables): Promise<ApiToken[]> {
  return await db.select().from(apiToken).orderBy(asc(apiToken.made), asc(apiToken.id));
}
export async function tokenByHash(
  db: Database,
  { apiToken }: Tables,
  hash: string,
): Promise<ApiToken | null> {
  const [found] = await db.select().from(apiToken).where(eq(apiToken.hash, hash));
  return found ?? null;
}
/** False if none is valid. */
export async function revokeToken(
  db: Database,
  tables: Tables,
  id: string,
  now: number,
  audit: NewAudit,
): Promise<boolean> {
  const { apiToken } = tables;
  const revoked = await db
    .update(apiToken)
    .set({ revoked: now })
    .where(and(eq(apiToken.id, id), isNull(apiToken.revoked)))
    .returning({ id: apiToken.id });
  if (revoked.length === 0) return false;
  await moveMark(db, tables);
  await addToAudit(db, tables, audit);
  return true;
}

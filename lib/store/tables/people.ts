import type { Role } from "#core/people/roles.ts";
import type { Kit } from "../kits/postgres.ts";

/** Who may sign in and what they may do. `person`, `session` and `credential` carry the session library's column names. */
export function definePeople(kit: Kit) {
  const person = kit.table("person", {
    id: kit.text("id").primaryKey(),
    username: kit.text("user_name").notNull().unique(),
    name: kit.text("name").notNull(),
    email: kit.text("email").notNull().unique(),
    emailVerified: kit.yesNo("email_verified").notNull(),
    image: kit.text("image"),
    disabled: kit.yesNo("disabled").notNull(),
    mustChange: kit.yesNo("must_change").notNull(),
    oneTimeUntil: kit.instant("one_time_until"),
    createdAt: kit.instant("created_at").notNull(),
    updatedAt: kit.instant("updated_at").notNull(),
    lastSignIn: kit.instant("last_sign_in"),
  });
  const session = kit.table(
    "session",
    {
      id: kit.text("id").primaryKey(),
      token: kit.text("token").notNull().unique(),
      userId: kit
        .text("person")
        .notNull()
        .references(() => person.id),
      expiresAt: kit.instant("expires_at").notNull(),
      createdAt: kit.instant("created_at").notNull(),
      updatedAt: kit.instant("updated_at").notNull(),
      ipAddress: kit.text("address"),
      userAgent: kit.text("user_agent"),
    },
    (t) => [kit.index("session_person").on(t.userId)],
  );
  const credential = kit.table(
    "credential",
    {
      id: kit.text("id").primaryKey(),
      accountId: kit.text("account").notNull(),
      providerId: kit.text("provider").notNull(),
      userId: kit
        .text("person")
        .notNull()
        .references(() => person.id),
      /** Hash of the password. */
      password: kit.text("password"),
      createdAt: kit.instant("created_at").notNull(),
      updatedAt: kit.instant("updated_at").notNull(),
    },
    (t) => [kit.uniqueIndex("credential_person_provider").on(t.userId, t.providerId)],
  );
  const roleGrant = kit.table(
    "role_grant",
    {
      number: kit.ownNumber("number"),
      person: kit
        .text("person")
        .notNull()
        .references(() => person.id),
      role: kit.text("role").$type<Role>().notNull(),
      site: kit.text("site"),
      system: kit.text("system"),
    },
    (t) => [kit.index("role_grant_person").on(t.person)],
  );
  const apiToken = kit.table("api_token", {
    id: kit.text("id").primaryKey(),
    name: kit.text("name").notNull(),
    hash: kit.text("hash").notNull().unique(),
    role: kit.text("role").$type<Role>().notNull(),
    site: kit.text("site"),
    system: kit.text("system"),
    madeBy: kit.text("made_by").notNull(),
    made: kit.instant("made").notNull(),
    expires: kit.instant("expires").notNull(),
    revoked: kit.instant("revoked"),
  });
  /** Failed attempts to sign in, by account and by address. */
  const attempt = kit.table("attempt", {
    key: kit.text("key").primaryKey(),
    count: kit.integer("count").notNull(),
    since: kit.instant("since").notNull(),
  });
  return { person, session, credential, roleGrant, apiToken, attempt };
}

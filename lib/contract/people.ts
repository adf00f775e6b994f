/** Signing in, people, grants, tokens, and the audit trail. */
import * as z from "zod";
import { PASSWORD_MOST } from "#core/people/password.ts";
import { clientId, instant, named, reason, role } from "./places.ts";

/** POST /sign-in. The answer sets the session cookie. Wrong names and wrong passwords are refused in the same words (401). */
export const signInRequest = z.strictObject({
  name: z.string().min(1).max(200).describe("user name or e-mail address"),
  password: z.string().min(1).max(1_000),
});

/** POST /sign-in-display: a viewer's token, typed once at a wall display. */
export const displayRequest = z.strictObject({ token: z.string().min(10).max(200) });

/** A role and where it holds; `site` and `system` by short name, both null: everywhere. */
export const grantView = z.object({
  role,
  site: z.string().nullable(),
  system: z.string().nullable(),
});
export type GrantView = z.infer<typeof grantView>;

/** GET /me, and what POST /sign-in answers. */
export const meView = z.object({
  kind: z.enum(["person", "token", "first run"]).describe("first run: nobody has an account yet"),
  id: z.string(),
  name: z.string().describe("name as it appears in records"),
  userName: z.string().nullable(),
  grants: z.array(grantView),
  rights: z.array(z.string()).describe("everything this actor may do somewhere"),
  mustChangePassword: z.boolean(),
});
export type MeView = z.infer<typeof meView>;

export const done = z.object({ ok: z.literal(true) });

/** POST /me/password. Ends every other session of this person. */
export const passwordRequest = z.strictObject({
  current: z.string().min(1).max(1_000),
  next: z.string().min(1).max(1_000).describe(`8 to ${PASSWORD_MOST} characters, 15 or more advised`),
});

const grantSent = z.strictObject({
  role,
  site: named.nullable().optional().describe("a site's short name; default: everywhere"),
  system: named.nullable().optional().describe("a system's short name; not together with `site`"),
});

/** POST /people. */
export const inviteRequest = z.strictObject({
  userName: z
    .string()
    .min(2)
    .max(40)
    .regex(
      /^[a-z0-9][a-z0-9._-]*$/,
      "small letters, digits, dot, dash and underscore, beginning with one of the first two",
    ),
  name: z.string().trim().min(2).max(80).describe("name as it will appear in records"),
  email: z.email().max(200).optional(),
  grants: z.array(grantSent).max(50),
});
/** POST /people/{person}/grants: the whole list, replacing the one before. */
export const grantsRequest = z.strictObject({ grants: z.array(grantSent).max(50) });

export const personView = z.object({
  id: z.string(),
  userName: z.string(),
  name: z.string(),
  email: z.string().nullable(),
  grants: z.array(grantView),
  disabled: z.boolean(),
  mustChangePassword: z.boolean(),
  created: instant,
  lastSignIn: instant.nullable(),
  sessions: z.number().int().describe("number of open sessions"),
});
export type PersonView = z.infer<typeof personView>;
/** GET /people. */
export const peopleView = z.object({ people: z.array(personView).describe("by name") });
export type PeopleView = z.infer<typeof peopleView>;
/** POST /people and POST /people/{person}/new-password: the password is shown only once and works once. */
export const invitedView = z.object({
  person: personView,
  oneTimePassword: z.string(),
  expires: instant,
});
export type InvitedView = z.infer<typeof invitedView>;
/** POST /people/{person}/disable, /enable and /end-sessions. */
export const personReason = z.strictObject({ reason: reason.optional() });

/** POST /tokens: for a wall display (viewer) or a program that sends. The token is shown only once. */
export const tokenRequest = z.strictObject({
  name: z.string().trim().min(2).max(80),
  role: z.enum(["viewer", "aquarist", "technician"]).describe("what it may do; a wall display is a viewer"),
  site: named.nullable().optional(),
  system: named.nullable().optional(),
  days: z.int().min(1).max(3_660).optional().describe("how long it works; default: a year"),
});
export const tokenView = z.object({
  id: z.string(),
  name: z.string(),
  grant: grantView,
  madeBy: z.string(),
  made: instant,
  expires: instant,
  revoked: instant.nullable(),
});
export type TokenView = z.infer<typeof tokenView>;
/** GET /tokens. */
export const tokensView = z.object({ tokens: z.array(tokenView) });
export const newTokenView = z.object({ token: z.string().describe("shown only this once"), view: tokenView });

/** GET /audit. */
export const auditQuery = z.strictObject({
  limit: z.int().min(1).max(1_000).optional().describe("default: 100"),
  before: z.int().min(1).optional().describe("only rows with a smaller `seq`: the next page"),
  actor: named.optional().describe("name as it appears in the rows"),
  verb: named.optional(),
});
export const auditView = z.object({
  rows: z
    .array(
      z.object({
        seq: z.number().int(),
        at: instant,
        actor: z.string(),
        verb: z.string(),
        subject: z.string().describe("what was written, e.g. bench-test:<id>"),
        record: z.string().describe("canonical JSON of what was written; no secrets"),
        hash: z.string().describe("SHA-256 over the previous row's hash and this row"),
      }),
    )
    .describe("newest first"),
  next: z.number().int().nullable().describe("`before` of the next page"),
  intact: z
    .boolean()
    .describe("the hash chain of these rows is unbroken; GET /audit/check follows the whole chain"),
});
/** GET /audit/check. */
export const auditCheckView = z.object({
  rows: z.number().int(),
  broken: z
    .number()
    .int()
    .nullable()
    .describe("the first row whose hash does not follow from the row before"),
  head: z.string().describe("hash of the newest row: kept elsewhere, it shows rows that were cut off later"),
});
export type AuditView = z.infer<typeof auditView>;

/** POST /alarms/{alarm}/acknowledge: somebody has seen it; it does not mean fixed. */
export const acknowledgeRequest = z.strictObject({
  clientId,
  note: z.string().trim().max(500).optional(),
  at: z.number().int().optional().describe("when it was done, if it is sent later; default: now"),
});
export const acknowledgeAnswer = z.object({
  id: z.string(),
  alarm: z.string(),
  by: z.string(),
  at: instant,
  note: z.string().nullable(),
  repeated: z.boolean(),
  received: instant.describe("the alarm's state follows when it is evaluated, within a second"),
});
export type AcknowledgeAnswer = z.infer<typeof acknowledgeAnswer>;

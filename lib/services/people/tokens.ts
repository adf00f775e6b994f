/** Tokens of programs and wall displays: made and revoked by an administrator, shown once, kept as a hash. */
import { createHash, randomBytes } from "node:crypto";
import type * as z from "zod";
import { type newTokenView, type TokenView, tokenRequest, type tokensView } from "#contract/people.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import type { Store } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demand } from "../permission.ts";
import { grantsOf, tokenView } from "./people-view.ts";

const USUAL_DAYS = 365;
const PREFIX = "hw_";

/** What is kept of a token. */
export const hashOfToken = (token: string): string => createHash("sha256").update(token).digest("hex");

/** Every token, revoked ones too; the tokens themselves are kept nowhere. Throws AppError "forbidden". */
export async function readTokens(deps: WriteDeps, actor: Actor): Promise<z.output<typeof tokensView>> {
  demand(actor, "manage-tokens");
  const [tokens, index] = await Promise.all([deps.store.readTokens(), deps.setUp.read()]);
  return { tokens: tokens.map((token) => tokenView(token, index)) };
}

/** Makes a token of 256 random bits. Throws AppError "forbidden" or "invalid". */
export async function addToken(
  deps: WriteDeps,
  actor: Actor,
  body: unknown,
): Promise<z.output<typeof newTokenView>> {
  demand(actor, "manage-tokens");
  const { name, days = USUAL_DAYS, ...place } = parse(tokenRequest, body);
  const index = await deps.setUp.read();
  const [grant] = grantsOf([place], index);
  if (!grant) throw new AppError("invalid", "A token needs a role.");
  const now = deps.clock();
  const token = `${PREFIX}${randomBytes(32).toString("base64url")}`;
  const row = {
    id: deps.newId(now),
    name,
    hash: hashOfToken(token),
    ...grant,
    madeBy: actor.name,
    made: now,
    expires: now + days * DAY,
    revoked: null,
  };
  const { hash: _hash, ...record } = row;
  await deps.store.addToken(row, audited(actor, now, "add-token", `token:${row.id}`, record));
  return { token, view: tokenView(row, index) };
}

/** Revokes a token at once. Throws AppError "forbidden"; "not_found" if none is valid. */
export async function revokeToken(deps: WriteDeps, actor: Actor, id: string): Promise<TokenView> {
  demand(actor, "manage-tokens");
  const now = deps.clock();
  const done = await deps.store.revokeToken(
    id,
    now,
    audited(actor, now, "revoke-token", `token:${id}`, { id }),
  );
  const row = (await deps.store.readTokens()).find((token) => token.id === id);
  if (!done || !row) throw notFound("token", id, "It does not exist or has already been revoked.");
  return tokenView(row, await deps.setUp.read());
}

/** The actor behind a token that works now; null otherwise. */
export async function actorOfToken(store: Store, token: string, now: Instant): Promise<Actor | null> {
  if (!token.startsWith(PREFIX)) return null;
  const row = await store.tokenByHash(hashOfToken(token));
  if (!row || row.revoked !== null || now >= row.expires) return null;
  const { id, name, role, site, system } = row;
  return { id: `token-${id}`, name, kind: "token", grants: [{ role, site, system }], mustChange: false };
}

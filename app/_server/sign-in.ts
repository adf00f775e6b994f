import type { MeView } from "#contract/people.ts";
import type { Actor } from "#services/deps.ts";
import { AppError } from "#services/errors.ts";
import { meView } from "#services/people/people-view.ts";
import type { AppDeps } from "./deps.ts";

/**
 * The address a request came from: the last one named, which a proxy in front adds itself and which Next writes where there is none. Without
 * a proxy a sender can name any; the limit for each account holds all the same.
 */
export function addressOf(headers: Headers): string | null {
  const last = headers.get("x-forwarded-for")?.split(",").at(-1)?.trim();
  return last === undefined || last === "" ? null : last.slice(0, 60);
}

/** An answer that sets cookies and is never kept. */
export function withCookies(body: object, cookies: readonly string[]): Response {
  const response = Response.json(body, { headers: { "cache-control": "no-store" } });
  for (const cookie of cookies) response.headers.append("set-cookie", cookie);
  return response;
}

export const tooMany = (seconds: number) =>
  new AppError("too_many", `Too many attempts. Try again in ${Math.max(1, Math.ceil(seconds / 60))} min.`);

export async function meOf(deps: AppDeps, actor: Actor, userName: string | null): Promise<MeView> {
  return meView(actor, userName, await deps.write.setUp.read());
}

import { EVERYWHERE, may } from "#core/people/index.ts";
import type { Actor } from "#services/deps.ts";
import { AppError } from "#services/errors.ts";
import type { AppDeps } from "./deps.ts";
import { Unauthorised, whoAsks } from "./guard.ts";
import type { Reach } from "./live.ts";

/** What a listener may see: fixed when the stream opens, because a change of rights ends it and the browser opens another. */
export async function reachOf(
  { scope, guard }: Pick<AppDeps, "scope" | "guard">,
  actor: Actor,
  headers: Headers,
): Promise<Reach> {
  const read = scope(actor);
  const seen = may(actor.grants, "read", EVERYWHERE)
    ? null
    : new Set((await read.setUp.read()).byCode.keys());
  const asked = new Headers(headers);
  const grants = JSON.stringify(actor.grants);
  return {
    sees: (code) => seen?.has(code) ?? true,
    async holds() {
      try {
        const now = await whoAsks(asked, "GET", guard);
        return now.actor.id === actor.id && JSON.stringify(now.actor.grants) === grants;
      } catch (error) {
        if (error instanceof Unauthorised || error instanceof AppError) return false;
        throw error;
      }
    },
  };
}

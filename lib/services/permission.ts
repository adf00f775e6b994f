import type { NewAudit } from "#core/audit/audit.ts";
import { EVERYWHERE, may, mayAnywhere, type Place, RIGHT_WORDS, type Right } from "#core/people/index.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Actor } from "./deps.ts";
import { AppError } from "./errors.ts";
import type { SystemSetUp } from "./set-up.ts";

export const placeOf = ({ site, system }: Pick<SystemSetUp, "site" | "system">): Place => ({
  site: site.id,
  system: system.id,
});

function refuseUnchanged(actor: Actor): void {
  if (actor.mustChange)
    throw new AppError(
      "forbidden",
      "Change the one-time password first: nothing else can be used until then.",
    );
}

/** Throws AppError "forbidden" unless the actor has the right at the place (no place: everywhere). */
export function demand(actor: Actor, right: Right, place: Place = EVERYWHERE, where = ""): void {
  refuseUnchanged(actor);
  if (!may(actor.grants, right, place))
    throw new AppError(
      "forbidden",
      `${actor.name} may not ${RIGHT_WORDS[right]}${where === "" ? "" : ` at ${where}`}.`,
    );
}

/** Throws AppError "forbidden" unless the actor has the right at that system. */
export const demandAt = (actor: Actor, right: Right, at: Pick<SystemSetUp, "site" | "system">): void =>
  demand(actor, right, placeOf(at), at.system.code);

/** Throws AppError "forbidden" unless the actor has the right somewhere; what they may do where is checked place by place. */
export function demandSomewhere(actor: Actor, right: Right): void {
  refuseUnchanged(actor);
  if (!mayAnywhere(actor.grants, right))
    throw new AppError("forbidden", `${actor.name} may not ${RIGHT_WORDS[right]}.`);
}

/** The audit row of a write. `record`: what was written, without secrets. */
export const audited = (
  actor: Actor,
  now: Instant,
  verb: string,
  subject: string,
  record: unknown,
): NewAudit => ({ at: now, actor: actor.name, actorId: actor.id, verb, subject, record });

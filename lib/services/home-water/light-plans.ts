import type { HabitatAnswer } from "#contract/habitat.ts";
import { lightPlanRequest, withdrawLightPlanRequest } from "#contract/light-plans.ts";
import type { LightPlan } from "#core/habitat/index.ts";
import { endedBy, scheduleWords, withdrawnFrom } from "#core/light/index.ts";
import type { Instant } from "#core/time/instant.ts";
import { wallTime } from "#core/time/wall-time.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, notFound } from "../errors.ts";
import { logOf, momentOf, writeChange } from "../habitat/habitat-write.ts";
import { parse } from "../parse.ts";
import { demandAt, demandSomewhere } from "../permission.ts";
import { lookUp, type SystemSetUp, systemOf } from "../set-up.ts";

/** One commit: the schedules as they are now, an entry in the logbook, and what is judged again where it was set back in time. */
function write(
  deps: WriteDeps,
  actor: Actor,
  at: SystemSetUp,
  change: {
    readonly verb: string;
    readonly id: string;
    readonly lightPlans: readonly LightPlan[];
    readonly from: Instant;
    readonly text: string;
    readonly now: Instant;
  },
): Promise<HabitatAnswer> {
  const { verb, id, lightPlans, from, text, now } = change;
  const log = logOf(deps, actor, now, {
    kind: "lights-change",
    systems: [at.system.id],
    at: Math.min(from, now),
    text,
    animals: [],
  });
  // The evaluator holds the light against the schedule in force; one that is set back in time is judged from then on.
  const again = from < now ? [{ system: at.system.id, from }] : [];
  return writeChange(deps, actor, now, verb, `light-plan:${id}`, id, { lightPlans, log: [log] }, again);
}

/** With its year: the logbook is read for years. */
const dated = (from: Instant, at: SystemSetUp) => wallTime(from, at.site.zone, 0);

/**
 * Sets the light schedule of a system from an instant on; the one before it ends there, and so does one that was to begin later. A wrong one is
 * corrected by setting another from the same instant. Throws AppError "forbidden", "not_found" or "invalid".
 */
export async function setLightPlan(
  deps: WriteDeps,
  actor: Actor,
  system: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demandSomewhere(actor, "change-band");
  const request = parse(lightPlanRequest, body);
  const at = await lookUp(deps.setUp, (index) => systemOf(index, system));
  demandAt(actor, "change-band", at);
  const now = deps.clock();
  const validFrom = momentOf("validFrom", request.validFrom, now);
  const { lightPlans } = await deps.store.readHabitat();
  const mine = lightPlans.filter((plan) => plan.system === at.system.id);
  const plan: LightPlan = {
    ...request,
    id: deps.newId(now),
    system: at.system.id,
    validFrom,
    validTo: null,
    setBy: actor.name,
    recordedAt: now,
  };
  return write(deps, actor, at, {
    verb: "set-light-plan",
    id: plan.id,
    lightPlans: [...endedBy(mine, validFrom), plan],
    from: validFrom,
    text: `Light schedule from ${dated(validFrom, at)}: ${scheduleWords(plan)}. ${plan.reason}`,
    now,
  });
}

/**
 * Withdraws a light schedule as though it had not been set: the one that it ended goes on in its place, and it stays readable. Throws AppError
 * "forbidden", "not_found", "invalid", or "conflict" where it holds at no time any more.
 */
export async function withdrawLightPlan(
  deps: WriteDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<HabitatAnswer> {
  demandSomewhere(actor, "change-band");
  const { reason } = parse(withdrawLightPlanRequest, body);
  const { lightPlans } = await deps.store.readHabitat();
  const plan = lightPlans.find((each) => each.id === id);
  const at = plan && (await deps.setUp.read()).byId.get(plan.system);
  if (!plan || !at)
    throw notFound("light schedule", id, "GET /api/v1/systems/{system}/light-plans lists them.");
  demandAt(actor, "change-band", at);
  const now = deps.clock();
  const changed = withdrawnFrom(
    lightPlans.filter((each) => each.system === plan.system),
    plan,
  );
  if (changed.length === 0)
    throw new AppError(
      "conflict",
      "This schedule has already been withdrawn, or was replaced from its start.",
    );
  return write(deps, actor, at, {
    verb: "withdraw-light-plan",
    id,
    lightPlans: changed,
    from: plan.validFrom,
    text: `Light schedule of ${dated(plan.validFrom, at)} withdrawn (${scheduleWords(plan)}): ${reason}`,
    now,
  });
}

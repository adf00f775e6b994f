import {
  type AdoptedAnswer,
  adoptSeasonRequest,
  homeWaterSeriesRequest,
} from "#contract/home-water-forms.ts";
import type { HomeWaterSeries, SeasonPlan } from "#core/habitat/index.ts";
import { setPointFaults } from "#core/season/index.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { invalid, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demand, demandAt, demandSomewhere } from "../permission.ts";
import { lookUp, systemOf } from "../set-up.ts";
import { watchedRamps } from "./season-watched.ts";

const overlaps = (plan: { readonly validTo: number | null }, from: number) =>
  plan.validTo === null || plan.validTo > from;

/**
 * Adopts set-points by week for a system: a new plan with reason and source; the one before it ends and stays readable. A plan for people:
 * no controller receives it. Throws AppError "forbidden", "not_found" or "invalid" with every fault of the set-points, and where they ramp while a
 * birth or hatching is awaited and nobody said that they know.
 */
export async function adoptSeasonPlan(
  deps: WriteDeps,
  actor: Actor,
  system: string,
  body: unknown,
): Promise<AdoptedAnswer> {
  demandSomewhere(actor, "change-band");
  const { rate, despiteWatch, ...request } = parse(adoptSeasonRequest, body);
  const at = await lookUp(deps.setUp, (index) => systemOf(index, system));
  demandAt(actor, "change-band", at);
  const faults = setPointFaults(request.setPoints, rate);
  if (faults.length > 0)
    throw invalid(
      faults.map((says) => ({
        field: "setPoints",
        value: null,
        says,
        remedy: "correct the set-point, or allow a faster change",
      })),
    );
  const now = deps.clock();
  const habitat = await deps.store.readHabitat();
  const watched = watchedRamps(at, habitat, request.setPoints, now);
  if (watched.length > 0 && despiteWatch !== true)
    throw invalid(
      watched.map(({ who, kind, steps }) => ({
        field: "despiteWatch",
        value: null,
        says: `${steps} ${steps === 1 ? "step ramps" : "steps ramp"} while a ${kind === "gestation" ? "birth" : "hatching"} of ${who} is awaited`,
        remedy: "hold the set-points level in its window, or confirm that you know of the watch",
      })),
    );
  const ended = habitat.seasonPlans
    .filter(
      (plan) => plan.system === at.system.id && plan.quantity === request.quantity && overlaps(plan, now),
    )
    .map((plan) => ({ ...plan, validTo: Math.max(now, plan.validFrom) }));
  const plan: SeasonPlan = {
    ...request,
    id: deps.newId(now),
    system: at.system.id,
    validFrom: now,
    validTo: null,
    adoptedBy: actor.name,
    adoptedAt: now,
  };
  const { received } = await deps.store.writeHabitat(
    { seasonPlans: [...ended, plan] },
    [],
    now,
    audited(actor, now, "adopt-season-plan", `season-plan:${plan.id}`, {
      plan,
      rate,
      despite: watched.map(({ watch }) => watch),
      ended: ended.map(({ id }) => id),
    }),
  );
  return { id: plan.id, received };
}

/** Loads twelve months of home water data of one's own (a logger, a shore station); it comes before the climatology near it. */
export async function addHomeWaterSeries(
  deps: WriteDeps,
  actor: Actor,
  body: unknown,
): Promise<AdoptedAnswer> {
  demand(actor, "change-band");
  const request = parse(homeWaterSeriesRequest, body);
  const now = deps.clock();
  const series: HomeWaterSeries = {
    ...request,
    id: deps.newId(now),
    recordedAt: now,
    recordedBy: actor.name,
    withdrawnAt: null,
  };
  const { received } = await deps.store.writeHabitat(
    { homeWater: [series] },
    [],
    now,
    audited(actor, now, "add-home-water-series", `home-water-series:${series.id}`, series),
  );
  return { id: series.id, received };
}

/** Withdraws a series of one's own: it stays readable and no longer counts. Throws AppError "not_found" where there is none in force. */
export async function withdrawHomeWaterSeries(
  deps: WriteDeps,
  actor: Actor,
  id: string,
): Promise<AdoptedAnswer> {
  demand(actor, "change-band");
  const { homeWater } = await deps.store.readHabitat();
  const series = homeWater.find((each) => each.id === id && each.withdrawnAt === null);
  if (!series) throw notFound("home water series", id, "GET /api/v1/native-water lists those in force.");
  const now = deps.clock();
  const { received } = await deps.store.writeHabitat(
    { homeWater: [{ ...series, withdrawnAt: now }] },
    [],
    now,
    audited(actor, now, "withdraw-home-water-series", `home-water-series:${id}`, { id, withdrawnAt: now }),
  );
  return { id, received };
}

import type { LightPlansView } from "#contract/light-plans.ts";
import { livingAt, profileFor } from "#core/habitat/index.ts";
import { isVoid, lightStreamOf, plannedLight, scheduleAt } from "#core/light/index.ts";
import { siteDay } from "#core/time/site-time.ts";
import type { ReadDeps } from "../deps.ts";
import { lookUp, systemOf } from "../set-up.ts";

/** The light schedules of a system, in force or not, what they plan for today, and the home latitudes of who lives there. Throws AppError "not_found". */
export async function readLightPlans(deps: ReadDeps, code: string): Promise<LightPlansView> {
  const now = deps.clock();
  const at = await lookUp(deps.setUp, (index) => systemOf(index, code));
  const { lightPlans, profiles, species } = await deps.store.readHabitat();
  const { zone } = at.site;
  const mine = lightPlans.filter((plan) => plan.system === at.system.id);
  const inForce = scheduleAt(mine, now);
  const today = plannedLight(mine, siteDay(now, zone), zone);
  const standOf = (plan: (typeof mine)[number]) => {
    if (isVoid(plan)) return "void";
    if (plan.id === inForce?.id) return "in force";
    return plan.validFrom > now ? "to come" : "over";
  };
  const homes = livingAt(at.residents, at.system.id, now).flatMap((stay) => {
    const latitude = profileFor(profiles, stay.species, stay.population)?.latitude ?? null;
    const name = species.find(({ id }) => id === stay.species)?.name ?? stay.speciesName;
    return latitude === null ? [] : [{ species: name, latitude }];
  });
  return {
    now,
    zone,
    system: at.system.code,
    name: at.system.name,
    measured: lightStreamOf(at.streams) !== undefined,
    today: today && { from: Math.round(today.from), to: Math.round(today.to) },
    plans: mine
      .toSorted((a, b) => b.validFrom - a.validFrom || b.recordedAt - a.recordedAt)
      .map((plan) => ({
        id: plan.id,
        hours: [...plan.hours],
        middle: plan.middle,
        latitude: plan.latitude,
        shiftDays: plan.shiftDays,
        from: plan.validFrom,
        to: plan.validTo,
        stand: standOf(plan),
        setBy: plan.setBy,
        recorded: plan.recordedAt,
        reason: plan.reason,
        source: plan.source,
      })),
    homes: homes.filter(
      (home, i) =>
        homes.findIndex((each) => each.species === home.species && each.latitude === home.latitude) === i,
    ),
  };
}

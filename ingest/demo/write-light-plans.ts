import type { LightPlan } from "#core/habitat/index.ts";
import type { Instant } from "#core/time/index.ts";
import type { Store } from "#store/port.ts";
import type { Scenario } from "../scenario/load.ts";

/** As long as anything in the demo. */
const ALWAYS: Instant = 0;

/** Writes the scenario's light schedules, so that lit hours, dawn and dusk are compared with what its people planned. Safe to repeat. */
export async function writeLightPlans(
  store: Store,
  scenario: Scenario,
  systemId: (code: string) => string,
  now: Instant,
): Promise<void> {
  const lightPlans = scenario.plans.flatMap((plan): LightPlan[] => {
    if (plan.kind !== "light") return [];
    return plan.systems.map((system) => ({
      id: `light-${plan.code}-${system}`,
      system: systemId(system),
      hours: plan.monthlyHours,
      middle: plan.middle,
      latitude: plan.latitude ?? null,
      shiftDays: 0,
      validFrom: ALWAYS,
      validTo: null,
      setBy: plan.setBy,
      recordedAt: now,
      reason: "the invented aquarium's own schedule",
      source: plan.source,
    }));
  });
  await store.writeHabitat({ lightPlans }, [], now, {
    at: now,
    actor: "demo",
    actorId: "demo",
    verb: "write-light-plans",
    subject: "light-plans:demo",
    record: { plans: lightPlans.map(({ id }) => id) },
  });
}

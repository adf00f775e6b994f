import type { PlanView } from "#contract/home-water.ts";
import { type SetPoint, seasonStanding } from "#core/season/index.ts";
import { isInForce } from "#core/time/in-force.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import type { Habitat, Store, Stream } from "#store/port.ts";
import type { SystemSetUp } from "../set-up.ts";
import { dailyMeans } from "./monthly-water.ts";
import { watchedRamps } from "./season-watched.ts";

/** The seasonal plan in force for a quantity, and where the water stands against it; null where none was adopted. */
export async function seasonOf(
  store: Store,
  at: SystemSetUp,
  habitat: Habitat,
  stream: Stream,
  now: Instant,
): Promise<PlanView | null> {
  const plan = habitat.seasonPlans
    .filter(
      (each) => each.system === at.system.id && each.quantity === stream.quantity && isInForce(each, now),
    )
    .at(-1);
  if (!plan) return null;
  const { id, setPoints, adoptedBy, adoptedAt, reason, source } = plan;
  const means = await dailyMeans(store, stream, { from: now - 9 * DAY, to: now });
  return {
    id,
    setPoints: setPoints.map(([when, value]): [Instant, number] => [when, value]),
    adoptedBy,
    adoptedAt,
    reason,
    source,
    standing: seasonStanding(setPoints as readonly SetPoint[], means, now),
    watched: watchedRamps(at, habitat, setPoints, now),
  };
}

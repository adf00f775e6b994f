/** What a system does, compared with the plan its people adopted. */

import { slopePerHour } from "../drift/rate.ts";
import { planAt } from "../habitat/plan.ts";
import { DAY, HOUR, type Instant } from "../time/instant.ts";
import type { SetPoint } from "./propose.ts";

const WINDOW = 7 * DAY;
/** Slopes below this share of the unit a day are level: ahead and behind have no meaning then. */
const LEVEL = 0.01;

export interface SeasonProgress {
  /** Where the plan and the water are, in the quantity's unit. */
  readonly planned: number;
  readonly actual: number;
  /** Actual less planned. */
  readonly off: number;
  /** Units a day over the last week; null where the week is not covered. */
  readonly slope: number | null;
  readonly plannedSlope: number;
  /** How far the water has run ahead of the plan, in the plan's direction, units and days; negative: behind. Null while the plan is level. */
  readonly ahead: { readonly units: number; readonly days: number } | null;
}

/**
 * Daily means (rising in time, in the plan's unit) against adopted set-points at an instant: how far off, how far ahead of a moving plan, and the
 * slope of the last seven days beside the planned slope of the same days. Null without set-points, before the plan begins, or without a
 * mean in the last two days.
 */
export function seasonStanding(
  setPoints: readonly SetPoint[],
  means: readonly (readonly [Instant, number])[],
  now: Instant,
): SeasonProgress | null {
  const [first] = setPoints;
  const latest = means.filter(([at]) => at <= now).at(-1);
  if (!first || !latest || now < first[0] || latest[0] < now - 2 * DAY) return null;
  const shape = { kind: "points", points: setPoints } as const;
  const [at, actual] = latest;
  const planned = planAt(shape, at);
  const plannedSlope = ((planAt(shape, at) - planAt(shape, at - WINDOW)) / WINDOW) * DAY;
  const known = means.filter(([when]) => when <= at && when >= at - WINDOW);
  const perHour = slopePerHour(
    known.map(([when]) => when),
    known.map(([, value]) => value),
    WINDOW,
  );
  const off = actual - planned;
  const isLevel = Math.abs(plannedSlope) < LEVEL;
  return {
    planned,
    actual,
    off,
    slope: perHour === null ? null : (perHour * DAY) / HOUR,
    plannedSlope,
    ahead: isLevel ? null : { units: off * Math.sign(plannedSlope), days: off / plannedSlope },
  };
}

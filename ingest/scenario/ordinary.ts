/** The ordinary course of a channel: day curve, slow wander, season, meter, filter, light. No sensor noise here. */
import { type PlanShape, planAt } from "#core/habitat/index.ts";
import { DAY, HOUR, type Instant, MINUTE } from "#core/time/index.ts";
import type { ScenarioClock } from "./clock.ts";
import { type Place, placeKey, type Scenario, type ScenarioChannel, type ScenarioPlan } from "./load.ts";
import { seedOf, wander } from "./noise.ts";

/** A quantity's true value in the water at an instant. */
export type Course = (at: Instant) => number;

const YEAR = 365.25 * DAY;
const USUAL_WANDER_H = 9;

/** The day curve: half a cosine up from low to high, half a cosine down again, each as long as its hours. */
function dayCurve(day: NonNullable<ScenarioChannel["day"]>, clock: ScenarioClock): Course {
  const lowAt = clockMs(day.lowAt);
  const rise = (clockMs(day.highAt) - lowAt + DAY) % DAY;
  const middle = (day.low + day.high) / 2;
  const half = (day.high - day.low) / 2;
  return (at) => {
    const since = (((clock.localOf(at) - lowAt) % DAY) + DAY) % DAY;
    const turn = since < rise ? since / rise - 1 : (since - rise) / (DAY - rise);
    return middle + half * Math.cos(Math.PI * turn);
  };
}

/** Milliseconds since midnight of a clock such as "05:30". */
function clockMs(clock: string): number {
  const [hour, minute] = clock.split(":");
  return Number(hour) * HOUR + Number(minute) * MINUTE;
}

/** A tide or season plan as the shape the core judges against; undefined for light and steps. */
export function planShape(plan: ScenarioPlan, clock: ScenarioClock): PlanShape | undefined {
  if (plan.kind === "light" || plan.kind === "steps") return undefined;
  return {
    kind: "tide",
    mean: plan.mean,
    amplitude: plan.amplitude,
    periodMs: plan.periodH * HOUR,
    highAt: clock.instantOf(plan.highAt),
  };
}

/** Hours of light planned on a local date (days since 1970): monthly values hold on the 15th, linear between. */
export function lightHours(monthlyHours: readonly number[], day: number): number {
  const date = new Date(day * DAY);
  const month = date.getUTCMonth() - (date.getUTCDate() < 15 ? 1 : 0);
  const start = Date.UTC(date.getUTCFullYear(), month, 15);
  const end = Date.UTC(date.getUTCFullYear(), month + 1, 15);
  const from = monthlyHours[(month + 12) % 12] ?? Number.NaN;
  const to = monthlyHours[(month + 13) % 12] ?? Number.NaN;
  return from + ((to - from) * (day * DAY - start)) / (end - start);
}

function light(channel: ScenarioChannel, scenario: Scenario, clock: ScenarioClock): Course {
  const spec = channel.light as NonNullable<ScenarioChannel["light"]>;
  const plan = scenario.plans.find((p) => p.code === spec.plan);
  if (plan?.kind !== "light") throw new RangeError(`${placeKey(channel)}: "${spec.plan}" is no light plan`);
  const middle = clockMs(plan.middle);
  const ramp = spec.rampMin * MINUTE;
  const shifts = scenario.course.lightShifts
    .filter((s) => s.system === channel.system)
    .map((s) => ({ from: clock.instantOf(s.from), to: clock.instantOf(s.to), by: s.minutes * MINUTE }));
  let day = Number.NaN;
  let half = 0;
  return (at) => {
    let local = clock.localOf(at);
    for (const shift of shifts) if (at >= shift.from && at < shift.to) local -= shift.by;
    const today = Math.floor(local / DAY);
    if (today !== day) {
      day = today;
      half = (lightHours(plan.monthlyHours, clock.dayOfD1 + today) * HOUR) / 2;
    }
    // The ramp is centred on the planned instant, so the half-brightness width is the planned length of day.
    const inside = half - Math.abs(local - today * DAY - middle);
    const share = Math.min(1, Math.max(0, inside / ramp + 0.5));
    return spec.night + spec.peak * share;
  };
}

function meter(spec: NonNullable<ScenarioChannel["meter"]>, clock: ScenarioClock): Course {
  // Evaporation follows the day a little; the swing is small enough that the meter never runs backwards.
  const swing = 0.05 * spec.perDay;
  return (at) =>
    spec.atD1 +
    (spec.perDay * (at - clock.anchor)) / DAY +
    swing * Math.sin((2 * Math.PI * (at - clock.anchor)) / DAY);
}

function filling(spec: NonNullable<ScenarioChannel["filling"]>, clock: ScenarioClock): Course {
  const cleaned = clock.instantOf(spec.cleanedAt);
  const period = spec.days * DAY;
  return (at) => {
    const since = at - cleaned;
    if (since >= 0) return spec.clean + (spec.settlesAt - spec.clean) * (1 - Math.exp((-2 * since) / period));
    return spec.clean + (spec.dirty - spec.clean) * (1 - ((-since / period) % 1));
  };
}

/** The ordinary course of a channel that does not follow another one. */
export function ordinaryCourse(channel: ScenarioChannel, scenario: Scenario, clock: ScenarioClock): Course {
  const base = baseOf(channel, scenario, clock);
  const plan = scenario.plans.find((p) => p.code === channel.plan);
  const shape = plan && planShape(plan, clock);
  const seed = seedOf(`wander ${placeKey(channel as Place)}`);
  const span = (channel.wanderH ?? USUAL_WANDER_H) * HOUR;
  const slow = 0.65 * channel.wander;
  const quick = 0.35 * channel.wander;
  const year = channel.year ?? 0;
  return (at) => {
    let value = base(at);
    if (shape) value += planAt(shape, at);
    if (year !== 0) value += (year * (1 - Math.cos((2 * Math.PI * (at - clock.anchor)) / YEAR))) / 2;
    if (slow !== 0) value += slow * wander(seed, at, span) + quick * wander(~seed, at, span / 5.3);
    return value;
  };
}

function baseOf(channel: ScenarioChannel, scenario: Scenario, clock: ScenarioClock): Course {
  if (channel.day) return dayCurve(channel.day, clock);
  if (channel.meter) return meter(channel.meter, clock);
  if (channel.filling) return filling(channel.filling, clock);
  if (channel.light) return light(channel, scenario, clock);
  const steady = channel.steady;
  if (steady === undefined) throw new RangeError(`${placeKey(channel)} has no course of its own`);
  return () => steady;
}

/**
 * Light followed sample by sample: each site day judged once, when its light has gone down for the night or when the day is over, and how long it
 * has been dark in hours that were planned to be lit. Plain data that is replaced, never changed in place; nothing looks ahead.
 */
import { HOUR, type Instant, MINUTE } from "../time/instant.ts";
import { dayLightOf } from "./day-light.ts";
import { type JudgedDay, judgeDay } from "./judge-light.ts";
import type { PlannedLight } from "./planned-light.ts";

export interface FollowedLight {
  /** Start of the site day of the newest sample, and of the day judged last; -1 before there is one. */
  readonly day: Instant;
  readonly judged: Instant;
  /** Of this day and the hour before it, rising. */
  readonly samples: readonly (readonly [at: Instant, value: number])[];
  /** The days judged last, oldest first. */
  readonly days: readonly JudgedDay[];
  /** What counted as lit on the last day that had a dawn and a dusk; null before one was seen. */
  readonly lit: number | null;
  /** Since when it has been dark in planned light; null while it is not. */
  readonly darkSince: Instant | null;
}
export const NO_LIGHT: FollowedLight = {
  day: -1,
  judged: -1,
  samples: [],
  days: [],
  lit: null,
  darkSince: null,
};

interface Span {
  readonly start: Instant;
  readonly end: Instant;
}
export interface LightSetting {
  readonly zone: string;
  readonly dayOf: (at: Instant) => Span;
  /** The light planned for the site day that begins at an instant; null where none is. */
  readonly plannedOn: (start: Instant) => PlannedLight | null;
}

/** Samples closer together than this say nothing more of the day. */
const SPACING = 5 * MINUTE;
/** Dark for so long after its planned end, and the day's light is over. */
const SETTLED = 30 * MINUTE;
/** So near to its planned ends dark is a matter of length or phase, judged by the day: an hour's shift and a quarter of an hour. */
const ENDS = 75 * MINUTE;
const LONGEST_GAP = HOUR;
const KEPT_DAYS = 8;

const toSample = ([at, value]: readonly [Instant, number]) => ({ at, value });

function judged(light: FollowedLight, upTo: Span, whole: Span, setting: LightSetting): FollowedLight {
  const plan = setting.plannedOn(whole.start);
  const measured = dayLightOf(light.samples.map(toSample), upTo.start, upTo.end);
  const day = judgeDay({ ...measured, ...whole }, plan?.schedule ?? null, setting.zone);
  return {
    ...light,
    judged: whole.start,
    days: [...light.days, day].slice(-KEPT_DAYS),
    lit: day.dusk === null ? light.lit : (day.threshold ?? light.lit),
  };
}

/** Whether the day's light has come and gone: it is past its planned end, and was dark for a while. */
function isOver(light: FollowedLight, today: Span, at: Instant, planned: PlannedLight | null): boolean {
  if (planned === null || at < planned.to + SETTLED || light.judged === today.start) return false;
  const { dusk } = dayLightOf(light.samples.map(toSample), today.start, at);
  return dusk !== null && at - dusk >= SETTLED;
}

function darkSince(
  light: FollowedLight,
  at: Instant,
  value: number,
  planned: PlannedLight | null,
): Instant | null {
  if (planned === null || light.lit === null || value > light.lit) return null;
  const last = light.samples.at(-1)?.[0] ?? at;
  const since = at - last > LONGEST_GAP ? null : light.darkSince;
  const ends = since === null ? ENDS : 0;
  if (at < planned.from + ends || at >= planned.to - ends) return null;
  return since ?? at;
}

/**
 * Take one sample (lx or umol/m2/s; only the shape over the day counts), later than all before. The same object where it says nothing more;
 * another `days` where a day was judged.
 */
export function followLight(
  before: FollowedLight,
  at: Instant,
  value: number,
  setting: LightSetting,
): FollowedLight {
  const last = before.samples.at(-1);
  if (last && at - last[0] < SPACING) return before;
  const past = before.day < 0 ? null : setting.dayOf(before.day);
  const today = setting.dayOf(at);
  let light: FollowedLight = { ...before, samples: [...before.samples, [at, value]], day: today.start };
  if (past && past.start !== today.start && before.judged !== past.start)
    light = judged(light, past, past, setting);
  if (past?.start !== today.start)
    light = { ...light, samples: light.samples.filter(([when]) => when >= today.start - HOUR) };
  const planned = setting.plannedOn(today.start);
  light = { ...light, darkSince: darkSince(before, at, value, planned) };
  if (!isOver(light, today, at, planned)) return light;
  return judged(light, { start: today.start, end: at }, today, setting);
}

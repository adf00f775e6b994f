/**
 * A place in air is a place in air: once one probe or the level says that a point is out of the water, no probe of that point is evidence of
 * the water, and what their readings began since is withdrawn. Our own rule, from common practice, no source:
 * - a probe of salt that reads as if in air twice says so, unless another one at the point still reads water;
 * - a level past its urgent low limit says so, and one past its low action limit does where another probe of the point has left its course since
 *   the level left its band; neither where a probe of salt there has read water since.
 */
import type { Withdrawal } from "../alarms/finding.ts";
import { HOUR, type Instant } from "../time/instant.ts";
import { CONDITIONS, type ConditionName, kindOf } from "./conditions.ts";
import type { JudgeContext } from "./judge.ts";
import type { Outputs } from "./outputs.ts";
import type { StreamSettings } from "./settings.ts";
import { type DryPlace, NOT_HELD, type StreamState, type WaterState } from "./water-state.ts";

/** Who said so and has been silent for so long says nothing of now. */
const HOLDS = 2 * HOUR;
/** What a probe in air makes of the water's course; stuck, silent and the probe's own agreement are not the air's doing. */
const BEGUN_BY_AIR: readonly ConditionName[] = [
  "high",
  "low",
  "rising",
  "falling",
  "step",
  "noise",
  "usual",
  "twin",
];
const AIR: Withdrawal = "air";

const saysSo = (stream: StreamSettings): boolean => stream.course?.readsInAir === true;
const isLevel = (stream: StreamSettings): boolean => stream.quantity === "level";

/** True where a reading of this stream is no evidence, because its point is out of the water. A probe of salt is asked itself. */
export function isPlaceDry(water: WaterState, stream: StreamSettings, at: Instant): boolean {
  if (water.dry.length === 0 || stream.course === null || saysSo(stream)) return false;
  return water.dry.some(
    ({ point, by }) => point === stream.pointCode && at - (water.streams.get(by)?.at ?? at) <= HOLDS,
  );
}

/** A probe of salt has read: in air (for the second time and more) or water. */
export function noteSalt(judged: JudgeContext, isAir: boolean, out: Outputs): void {
  const { stream, water, state, at } = judged;
  if (!saysSo(stream)) return;
  if (state.course?.airSince === undefined) {
    if (water.dry.length > 0) release(water, ({ point }) => point === stream.pointCode);
    return;
  }
  if (!isAir) return;
  const since = state.course.airSince ?? at;
  if (!readsWater(judged, since)) claim(judged, since, out);
}

/** A level has been held against its band. What it said once holds until the level is back within its limit, or a probe of salt reads water. */
export function noteLevel(judged: JudgeContext, out: Outputs): void {
  const { stream, water } = judged;
  if (!isLevel(stream)) return;
  const since = water.dry.find(({ by }) => by === stream.id)?.since ?? sinceByLevel(judged);
  const isPastLimit = judged.state.conditions.low.since[1] !== null;
  if (isPastLimit && since !== null && !readsWater(judged, since)) claim(judged, since, out);
  else if (water.dry.length > 0) release(water, ({ by }) => by === stream.id);
}

/** Since when a place is out of the water by its level; null where the level does not say so. */
function sinceByLevel({ stream, state, water, context }: JudgeContext): Instant | null {
  const [left, , urgent] = state.conditions.low.since;
  if (urgent !== null || left === null) return urgent;
  const began = context.settings.streams.flatMap((other) =>
    other.pointCode === stream.pointCode && other.course !== null
      ? (leftCourseSince(water.streams.get(other.id), left) ?? [])
      : [],
  );
  return began.length > 0 ? Math.min(...began) : null;
}

/** When a stream first left its course or its band since an instant; null where it has not. */
function leftCourseSince(state: StreamState | undefined, since: Instant): Instant | null {
  if (!state) return null;
  const began = BEGUN_BY_AIR.flatMap((name) => {
    const { open } = state.conditions[name];
    return open && open.raised >= since ? [Math.max(since, open.began)] : [];
  });
  return began.length > 0 ? Math.min(...began) : null;
}

/** Another probe of salt at the point has read water since. */
const readsWater = ({ context, stream, water }: JudgeContext, since: Instant): boolean =>
  context.settings.streams.some(
    (other) =>
      other.id !== stream.id &&
      other.pointCode === stream.pointCode &&
      saysSo(other) &&
      (water.streams.get(other.id)?.goodAt ?? since - 1) >= since,
  );

function release(water: WaterState, of: (place: DryPlace) => boolean): void {
  if (water.dry.some(of)) water.dry = water.dry.filter((place) => !of(place));
}

function claim(judged: JudgeContext, since: Instant, out: Outputs): void {
  const { stream, water, context } = judged;
  if (water.dry.some(({ by }) => by === stream.id)) return;
  water.dry = [...water.dry, { point: stream.pointCode, since, by: stream.id }];
  for (const other of context.settings.streams)
    if (other.pointCode === stream.pointCode && (other.course !== null || other.origin === "derived"))
      withdraw(judged, other, since, out);
}

/** What a stream claims since its place fell dry was never of the water. */
function withdraw(judged: JudgeContext, stream: StreamSettings, since: Instant, out: Outputs): void {
  const { water, context, at } = judged;
  const state = water.streams.get(stream.id);
  if (!state) return;
  // Probes of one point do not read at one instant: another one may have read air just before.
  const from = since - (stream.interval ?? state.pace);
  let isTouched = false;
  for (const name of CONDITIONS) {
    if (!BEGUN_BY_AIR.includes(name)) continue;
    const condition = state.conditions[name];
    const { open } = condition;
    if (!open) {
      if (condition.since[0] !== null && condition.since[0] >= from) condition.since = NOT_HELD;
      continue;
    }
    if (open.raised < from) continue;
    const withdrawn = { ...open, evidence: { ...open.evidence, withdrawn: AIR } };
    condition.open = null;
    condition.level = 0;
    condition.back = null;
    condition.since = NOT_HELD;
    judged.close(stream, context.settings.system.id, kindOf(name), withdrawn, at, out);
    isTouched = true;
  }
  if (!isTouched) return;
  out.touched.add(stream.id);
  out.recent.push(stream.id);
}

/** The three judgements of a good reading: against its band, by its rate, by its word. */
import type { FindingKind, Level } from "../alarms/finding.ts";
import { levelOf } from "../alarms/finding.ts";
import { turnOf } from "../drift/change-point.ts";
import { slopePerHour } from "../drift/rate.ts";
import type { RateRule } from "../drift/rate-rules.ts";
import type { Instant } from "../time/instant.ts";
import { type StateQuantity, stateWord } from "../units/quantity.ts";
import { type Closed, stepCondition } from "./condition.ts";
import type { FoldContext } from "./fold-context.ts";
import { deadband, deviationOf, edgesFor, levelOnSide } from "./judge-band.ts";
import type { Outputs } from "./outputs.ts";
import { planned } from "./planned.ts";
import type { StreamSettings } from "./settings.ts";
import type { Condition, CourseState, OpenFinding, StreamState, WaterState } from "./water-state.ts";

export interface JudgeContext {
  readonly context: FoldContext;
  readonly water: WaterState;
  readonly stream: StreamSettings;
  readonly state: StreamState;
  readonly at: Instant;
  readonly value: number;
  readonly late: boolean;
  readonly close: (
    stream: StreamSettings,
    system: string,
    kind: FindingKind,
    closed: OpenFinding,
    ended: Instant,
    out: Outputs,
  ) => void;
}

export function finishCondition(
  judged: JudgeContext,
  kind: FindingKind,
  closed: Closed | null,
  out: Outputs,
): void {
  if (!closed) return;
  const { stream, context } = judged;
  judged.close(stream, context.settings.system.id, kind, closed.finding, closed.ended, out);
}

const SIDES = ["high", "low"] as const;
const isConditionIdle = (condition: Condition): boolean =>
  condition.level === 0 && condition.since[0] === null;

/** Deviation of the value (null: no band, or not proven) and the conditions above and below the band. */
export function judgeBand(judged: JudgeContext, out: Outputs): number | null {
  const { stream, state, at, value } = judged;
  const edges = edgesFor(stream, at, judged.context.monthsOf);
  if (!edges || stream.spec.kind !== "number") return null;
  const how = deviationOf(value, state.mark, edges);
  if (how === null) return null;
  const { high, low } = state.conditions;
  if (how === 0 && isConditionIdle(high) && isConditionIdle(low)) return how;
  // A result a person reads off has no noise to be compared with; "below 0.02" is nowhere near 0.02.
  const isRead = stream.origin === "bench" || state.mark !== null;
  const back = isRead ? 0 : deadband(edges, stream.spec.decimals, state.course?.course.step ?? 0);
  for (const side of SIDES) {
    const condition = state.conditions[side];
    const level = (side === "high") === how > 0 && how !== 0 ? levelOnSide(side, value, edges) : 0;
    if (level === 0 && isConditionIdle(condition)) continue;
    const eased = Math.max(
      level,
      levelOnSide(side, side === "high" ? value + back : value - back, edges),
    ) as Level;
    const closed = stepCondition(
      condition,
      { at, value, level, eased, delayMs: stream.delayMs, late: judged.late, badness: Math.abs(how) },
      stream.id,
      "out of band",
      side,
      () => ({
        value,
        edge: side === "high" ? edges.high : edges.low,
        limit: side === "high" ? edges.actionHigh : edges.actionLow,
        urgent: side === "high" ? edges.urgentHigh : edges.urgentLow,
        deviation: how,
      }),
    );
    finishCondition(judged, "out of band", closed, out);
  }
  return how;
}

/** A rate is over when it has fallen below this share of the limit that raised it. Our own. */
const OVER_BELOW = 0.7;

/** Slopes taken before what is usual for a stream counts, over how many it is averaged, and how many times it is unusual. */
const LEARNT = 200;
const MEMORY = 600;
const OUT_OF_CUSTOM = 6;

/** The limit of a rule for a stream, a unit an hour: practical, and above what is usual for a stream that always moves (a lit pool, a river). */
function rateLimit(course: CourseState | null, i: number, rule: RateRule): number {
  if (!course || course.rated < LEARNT) return rule.perHour;
  return Math.max(rule.perHour, OUT_OF_CUSTOM * (course.rates[i] ?? 0));
}

function learnRates(
  course: CourseState,
  rules: readonly RateRule[],
  slopes: readonly (number | null)[],
): void {
  course.rated++;
  const weight = Math.max(1 / course.rated, 1 / MEMORY);
  for (let i = 0; i < rules.length; i++) {
    const slope = slopes[i] ?? null;
    if (slope === null) continue;
    const usual = course.rates[i] ?? 0;
    // No single hour counts for much more than four usual ones, and one at the limit counts as unusual.
    const size = Math.min(Math.abs(slope), Math.max(4 * usual, (rules[i] as RateRule).perHour / 4));
    course.rates[i] = usual + weight * (size - usual);
  }
}

interface SteepestSlope {
  readonly level: Level;
  readonly eased: Level;
  readonly rule: RateRule | null;
  readonly slope: number;
}
const NOT_STEEP: SteepestSlope = { level: 0, eased: 0, rule: null, slope: 0 };

function steepestSlope(
  rules: readonly RateRule[],
  slopes: readonly (number | null)[],
  limits: readonly number[],
  direction: "rising" | "falling",
): SteepestSlope {
  const sign = direction === "rising" ? 1 : -1;
  let found = NOT_STEEP;
  for (let i = 0; i < rules.length; i++) {
    const rule = rules[i] as RateRule;
    const slope = slopes[i] ?? null;
    if (slope === null || (rule.direction !== "both" && rule.direction !== direction)) continue;
    const share = (sign * slope) / (limits[i] as number);
    if (!(share >= OVER_BELOW)) continue;
    const level = share >= 1 ? levelOf(rule.severity) : 0;
    const eased = levelOf(rule.severity);
    const better = level > found.level || (level === found.level && found.rule === null);
    found = {
      level: Math.max(level, found.level) as Level,
      eased: Math.max(eased, found.eased) as Level,
      rule: better ? rule : found.rule,
      slope: better ? slope : found.slope,
    };
  }
  return found;
}

/** Slopes and limits of the reading being judged; one reading is judged at a time. */
const SCRATCH: { readonly slopes: (number | null)[]; readonly limits: number[] } = { slopes: [], limits: [] };

const DIRECTIONS = ["rising", "falling"] as const;

/** The conditions "rising" and "falling": the slope over a rule's window, less the plan, passes its limit. */
export function judgeRate(judged: JudgeContext, out: Outputs): void {
  const { stream, state, at, value } = judged;
  const { slopes, limits } = SCRATCH;
  let isNear = false;
  for (let i = 0; i < stream.rates.length; i++) {
    const rule = stream.rates[i] as RateRule;
    const slope = slopePerHour(state.t, state.v, rule.windowMs, state.head);
    const limit = rateLimit(state.course, i, rule);
    slopes[i] = slope;
    limits[i] = limit;
    if (slope !== null && Math.abs(slope) >= OVER_BELOW * limit) isNear = true;
  }
  if (state.course) learnRates(state.course, stream.rates, slopes);
  // The usual case, for every reading of a stream with rates: not steep enough for anything.
  if (!isNear && state.conditions.rising.level === 0 && state.conditions.falling.level === 0) return;
  for (const direction of DIRECTIONS) {
    const condition = state.conditions[direction];
    const seen = steepestSlope(stream.rates, slopes, limits, direction);
    if (seen.level === 0 && condition.level === 0) continue;
    const windowMs = seen.rule?.windowMs ?? 0;
    if (condition.since[0] === null && seen.level > 0) {
      // The event began where the readings left their level, not where the window of the rule happens to begin.
      const from = at - 2 * windowMs;
      condition.since = [turnOf("began", state.t, state.v, state.head, from) ?? at - windowMs, null, null];
    }
    const closed = stepCondition(
      condition,
      {
        at,
        value,
        level: seen.level,
        eased: seen.eased,
        delayMs: 0,
        late: judged.late,
        badness: Math.abs(seen.slope),
      },
      stream.id,
      "too fast",
      direction,
      () => ({
        value,
        rate: seen.slope,
        window: windowMs,
        limit: seen.rule ? (limits[stream.rates.indexOf(seen.rule)] ?? null) : null,
        rule: seen.rule?.name ?? null,
        plan: stream.plans.length > 0 ? planned(stream, at) : null,
      }),
    );
    finishCondition(judged, "too fast", closed && endedAtTurn(state, closed), out);
  }
}

/** The slope over a window stays steep until the window has passed the end of the movement: it ended where the readings found their level. */
function endedAtTurn(state: StreamState, closed: Closed): Closed {
  const { finding } = closed;
  const turn = turnOf("ended", state.t, state.v, state.head, finding.began);
  const ended = turn === null ? closed.ended : Math.min(closed.ended, Math.max(finding.raised, turn));
  return { ...closed, ended };
}

/** The condition of a state quantity: its word is one that should not be, for longer than its delay. */
export function judgeState(judged: JudgeContext, out: Outputs): void {
  const { stream, state, at, value, water } = judged;
  const spec = stream.spec as StateQuantity;
  const word = stateWord(spec, value) ?? "";
  const severity = (spec.wrong as Readonly<Record<string, "look" | "action">>)[word];
  const level: Level = severity ? levelOf(severity) : 0;
  const condition = state.conditions.state;
  if (condition.since[0] === null) state.lateSince = judged.late;
  const closed = stepCondition(
    condition,
    // A state that is right again is right at once: nothing has to be waited for.
    {
      at,
      value,
      level,
      eased: level,
      delayMs: level === 0 ? 0 : stream.delayMs,
      late: state.lateSince,
      badness: level,
    },
    stream.id,
    "wrong state",
    word || "right",
    () => ({ word }),
  );
  finishCondition(judged, "wrong state", closed, out);
  const waits = level > condition.level;
  const listed = water.pending.includes(stream.id);
  if (waits && !listed) water.pending = [...water.pending, stream.id].sort((a, b) => a - b);
  if (!waits && listed) water.pending = water.pending.filter((id) => id !== stream.id);
}

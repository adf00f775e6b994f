/** The judgements of a stream's course: steps, noise, rest, exposure, and how it lies beside its usual days. */
import { type EvidenceOf, type Finding, findingId } from "../alarms/finding.ts";
import { type Departure, forgetRecent } from "../drift/course.ts";
import { type CourseLimits, practical } from "../drift/course-limits.ts";
import { endDay, learnAnew, missAllowed, takeHour, usualAt, wallHour } from "../drift/daily-reference.ts";
import { emptyTwin, takeDifference } from "../drift/twin.ts";
import { takeDay } from "../drift/weekly-trend.ts";
import { median } from "../statistics/robust.ts";
import { DAY, HOUR, type Instant, MINUTE } from "../time/instant.ts";
import { stepImmediateCondition } from "./immediate-condition.ts";
import type { JudgeContext } from "./judge.ts";
import type { Outputs } from "./outputs.ts";
import { planInForce, planned } from "./planned.ts";
import { type CourseObservation, courseOf } from "./screen-reading.ts";
import type { CourseState } from "./water-state.ts";

/** A finding about the course is over when nothing more of it was seen for so long. */
const CALM = HOUR;
/** So long beside its usual days, and that is what is usual now. */
const LEARN_ANEW = DAY;
/** Impossible readings in a row, before that is reported. */
const WILD = 3;

/** The probe was set right: what it read before says nothing about what is usual now. Changes `course`. */
export function resetCourse(course: CourseState, at: Instant): void {
  forgetRecent(course.course, at);
  learnAnew(course.reference);
  course.trend.medians = [];
  course.twin = emptyTwin;
  course.hours = [];
}

/** A reading outside what the instrument can read, or water can be. */
export function judgeImpossible(judged: JudgeContext, out: Outputs): void {
  const { course } = courseOf(judged.state);
  if (course.wild === 0) course.wildSince = judged.at;
  course.wild++;
  if (course.wild >= WILD)
    stepImmediateCondition(
      judged,
      "exposed",
      "span",
      2,
      1,
      0,
      () => impossibleEvidence(judged),
      out,
      course.wildSince,
    );
}

/** With the last good reading: a sender that changes its unit can be told by the two. */
const impossibleEvidence = ({ value, state }: JudgeContext): EvidenceOf<"exposed"> =>
  state.goodAt < 0 ? { value } : { value, before: state.goodValue };

/**
 * Judge one reading by what its course said of it. A reading that was set aside begins and ends what speaks of the probe; it says nothing
 * about hours, days or a twin.
 */
export function judgeCourse(
  judged: JudgeContext,
  limits: CourseLimits,
  seen: CourseObservation,
  out: Outputs,
): void {
  const own = courseOf(judged.state);
  const { at, value } = judged;
  if (seen.gap > 0) recordGap(judged, at - seen.gap, out);
  if (seen.departure) judgeStep(judged, seen.departure, seen.level, out);
  const { conditions } = judged.state;
  // For every reading there is: where nothing is and nothing was there is nothing to move.
  if (seen.isFlat || conditions.flat.level > 0) {
    const evidence = () => ({ value, held: seen.most });
    stepImmediateCondition(
      judged,
      "flat",
      "flat",
      seen.isFlat ? 2 : 0,
      1,
      0,
      evidence,
      out,
      own.course.flatSince,
    );
  }
  if (seen.isAir || conditions.exposed.level > 0)
    stepImmediateCondition(
      judged,
      "exposed",
      "air",
      seen.isAir ? 2 : 0,
      1,
      0,
      () => ({ value }),
      out,
      own.airSince,
    );
  if (seen.reason !== null) return;
  finishHour(judged, own, limits, out);
  judgeAgainstUsual(judged, own, limits, seen.level, out);
}

/** Readings were missing for a while. Where a stream has a schedule, silence on the receiving clock says so already. */
function recordGap(judged: JudgeContext, from: Instant, out: Outputs): void {
  const { stream, at, context, late } = judged;
  const finding: Finding = {
    id: findingId(stream.id, "silent", "gap", from),
    system: context.settings.system.id,
    stream: stream.id,
    quantity: stream.quantity,
    kind: "silent",
    rule: "gap",
    severity: stream.critical ? "action" : "look",
    began: from,
    raised: at,
    ended: at,
    evidence: { lastAt: from },
    late,
  };
  out.findings.set(finding.id, finding);
}

/** A step that one reading alone speaks of wants a look; the next one to the same side makes it one to act on. */
function judgeStep(judged: JudgeContext, departure: Departure, level: number, out: Outputs): void {
  const { conditions } = judged.state;
  const isStep = departure.isOut && (departure.isNew || conditions.step.open !== null);
  const plan = judged.value - level;
  if (!isStep && !departure.isNoisy && conditions.step.level === 0 && conditions.noise.level === 0) return;
  const { isAlone } = departure;
  stepImmediateCondition(
    judged,
    "step",
    departure.size > 0 ? "up" : "down",
    isStep ? (isAlone ? 1 : 2) : 0,
    Math.abs(departure.size),
    0,
    () => ({
      from: departure.expected + plan,
      to: judged.value,
      threshold: departure.threshold,
      alone: isAlone ? 1 : 0,
    }),
    out,
  );
  const { open } = conditions.step;
  if (open && isStep && !isAlone && open.evidence.alone === 1) open.evidence = { ...open.evidence, alone: 0 };
  stepImmediateCondition(
    judged,
    "noise",
    "noise",
    departure.isNoisy ? 1 : 0,
    departure.jump,
    CALM,
    () => ({ jump: departure.jump, usual: judged.state.course?.course.step ?? null }),
    out,
  );
}

/** A reading of a new hour: the hour before is over, and with it perhaps the day. */
function finishHour(judged: JudgeContext, own: CourseState, limits: CourseLimits, out: Outputs): void {
  const { state, at } = judged;
  const hour = at - (at % HOUR);
  if (own.hour === hour) return;
  const values: number[] = [];
  for (let i = state.t.length - 1; i >= state.head && (state.t[i] as number) >= own.hour; i--)
    if ((state.t[i] as number) < own.hour + HOUR) values.push(state.v[i] as number);
  if (own.hour >= 0 && values.length > 0) {
    const middle = median(values);
    const at = own.hour + 30 * MINUTE;
    const { open } = state.conditions.usual;
    takeHour(own.reference, Math.floor(wallHour(at, judged.context.dayOf(at).end)), middle, open !== null);
    own.hours = [...own.hours, middle];
    own.finished = [...own.finished, [own.hour, middle] as const].slice(-KEPT_HOURS);
    judgeTwin(judged, own, limits, out);
  }
  own.hour = hour;
  const { start } = judged.context.dayOf(at);
  if (own.day !== start) finishDay(judged, own, limits, out);
  own.day = start;
}

/** Hours kept for a twin whose own hour ends a little later. */
const KEPT_HOURS = 3;
/** Twins are wanted to agree to this share of what is practical over a week. */
const TWIN_SHARE = 0.5;

/** Compare the hours that both of a pair have finished. */
function judgeTwin(judged: JudgeContext, own: CourseState, limits: CourseLimits, out: Outputs): void {
  const { stream, water, context } = judged;
  const other = typeof stream.twin === "number" ? water.streams.get(stream.twin)?.course : null;
  if (!other) return;
  for (const [hour, middle] of own.finished) {
    const theirs = other.finished.find(([each]) => each === hour);
    if (hour <= own.twin.hour || !theirs) continue;
    const floor = TWIN_SHARE * practical(limits.week, limits.weekShare, middle);
    const { twin, verdict } = takeDifference(own.twin, hour, middle - theirs[1], floor);
    own.twin = twin;
    if (!verdict) continue;
    const { difference, usual, isApart } = verdict;
    const point = context.settings.byId.get(stream.twin as number)?.pointCode ?? null;
    const evidence = () => ({ difference, usual, other: point });
    stepImmediateCondition(judged, "twin", "twin", isApart ? 1 : 0, Math.abs(difference), 0, evidence, out);
  }
}

const LEAST_HOURS = 12;

function finishDay(judged: JudgeContext, own: CourseState, limits: CourseLimits, out: Outputs): void {
  endDay(own.reference);
  const { open } = judged.state.conditions.usual;
  if (open && judged.at - open.began > LEARN_ANEW) learnAnew(own.reference);
  if (own.hours.length >= LEAST_HOURS) {
    const middle = median(own.hours);
    const change = takeDay(own.trend, middle, practical(limits.week, limits.weekShare, middle));
    const evidence = () => ({
      change: change?.change ?? null,
      days: change?.days ?? null,
      threshold: change?.threshold ?? null,
      plan: planInForce(judged.stream, judged.at) ? planned(judged.stream, judged.at) : null,
    });
    stepImmediateCondition(
      judged,
      "trend",
      "trend",
      change?.isTrend ? 1 : 0,
      Math.abs(change?.change ?? 0),
      0,
      evidence,
      out,
    );
    const { open: trend } = judged.state.conditions.trend;
    if (trend && change?.isTrend) trend.evidence = evidence();
  }
  own.hours = [];
}

/** A share of what is allowed below which a reading is beside its usual days no longer. */
const BACK_BELOW = 0.7;
const LOOKED_AT = 4;
const WITHIN: readonly number[] = [];
const ENOUGH = 3;

function judgeAgainstUsual(
  judged: JudgeContext,
  own: CourseState,
  limits: CourseLimits,
  level: number,
  out: Outputs,
): void {
  const usual = usualAt(own.reference, wallHour(judged.at, judged.context.dayOf(judged.at).end));
  const allowed =
    usual === null ? null : missAllowed(own.reference, practical(limits.day, limits.dayShare, usual));
  const { open } = judged.state.conditions.usual;
  if (usual === null || allowed === null) {
    own.beside = [];
    if (open) stepImmediateCondition(judged, "usual", "time of day", 0, 0, 0, () => ({}), out);
    return;
  }
  const miss = level - usual;
  const bar = open ? BACK_BELOW * allowed : allowed;
  const side = Math.abs(miss) > bar ? Math.sign(miss) : 0;
  if (side === 0 && !open && !own.beside.some((each) => each !== 0)) {
    own.beside = WITHIN;
    return;
  }
  own.beside = [...own.beside, side].slice(-LOOKED_AT);
  const count = own.beside.reduce((sum, each) => sum + (each === side ? 1 : 0), 0);
  const isBeside = side !== 0 && count >= (open ? 1 : ENOUGH);
  const plan = judged.value - level;
  stepImmediateCondition(
    judged,
    "usual",
    "time of day",
    isBeside ? 1 : 0,
    Math.abs(miss),
    CALM,
    () => ({ residual: miss, usual: usual + plan, threshold: allowed }),
    out,
  );
}

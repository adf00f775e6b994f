/**
 * Whether a possible reading is evidence about the water, by the course of its own stream. Two things set it aside: it has been the same to the
 * last digit for too long, or the probe reads as if in air. What is set aside stays visible with its reason, and neither begins nor ends what
 * is claimed about the water. One reading far from its course is not set aside: it may be the first of many, and is compared with its band like any
 * other; the finding stays minor until the next one confirms it. After the flat line test of the IOOS QARTOD manuals (e.g. Temperature and
 * Salinity, version 2.0, 2016), made causal: no later reading is looked at.
 */
import { GAP, type Gap } from "../drift/across-gap.ts";
import {
  type Departure,
  forgetRecent,
  takeLevel,
  takePause,
  takeReading,
  takeRest,
} from "../drift/course.ts";
import type { CourseLimits } from "../drift/course-limits.ts";
import { usualAt, wallHour } from "../drift/daily-reference.ts";
import type { Reason } from "../quality/flag.ts";
import { HOUR, type Instant } from "../time/instant.ts";
import type { FoldContext } from "./fold-context.ts";
import { planned } from "./planned.ts";
import type { StreamSettings } from "./settings.ts";
import { type CourseState, emptyCourseState, type StreamState } from "./water-state.ts";

/** Longer than this without a reading, and the next one is compared with nothing. */
const FORGET = 2 * HOUR;
/** Readings in a row that read as if in air, before that is reported. */
const AIR = 2;

/** What the course of its stream says of one reading. */
export interface CourseObservation {
  /** Why it is set aside; null where it is evidence. */
  reason: Reason | null;
  /** The reading minus its plan. */
  level: number;
  departure: Departure | null;
  isFlat: boolean;
  /** Longest rest that still counts as rest, ms. */
  most: number;
  isAir: boolean;
  /** The pause before it, ms, where readings were missing that no schedule misses; else 0. */
  gap: number;
}
/** One reading is judged at a time, so one place is enough for what is seen of it. */
const SEEN: CourseObservation = {
  reason: null,
  level: 0,
  departure: null,
  isFlat: false,
  most: 0,
  isAir: false,
  gap: 0,
};

export function courseOf(state: StreamState): CourseState {
  state.course ??= emptyCourseState();
  return state.course;
}

/** What is known of the time before a reading in which others were missing. */
function gapBefore(
  context: FoldContext,
  stream: StreamSettings,
  { course, reference }: CourseState,
  at: Instant,
  pause: number,
): Gap {
  const hourOf = (when: Instant) => wallHour(when, context.dayOf(when).end);
  const [before, now] = [usualAt(reference, hourOf(at - pause)), usualAt(reference, hourOf(at))];
  const perHour = stream.rates.length === 0 ? 0 : Math.min(...stream.rates.map((rule) => rule.perHour));
  return {
    missed: pause / course.pace - 1,
    usual: before === null || now === null ? 0 : now - before,
    permitted: (perHour * pause) / HOUR,
  };
}

/** Take a reading that passed the range tests into the course of its stream, before it is counted anywhere. What it returns is used again. */
export function screenReading(
  context: FoldContext,
  stream: StreamSettings,
  limits: CourseLimits,
  state: StreamState,
  at: Instant,
  value: number,
): CourseObservation {
  const own = courseOf(state);
  const { course, aside } = own;
  const air = limits.readsInAir ? takeLevel(course, value) : 0;
  // The first such reading is no evidence either: water does not lose nine tenths of its salt from one reading to the next.
  if (air > 0) return seenInAir(own, at, value, air >= AIR);
  // What was read in the water before says nothing of where the next reading should be.
  if (own.airSince !== undefined) forgetRecent(course, at);
  own.airSince = undefined;
  const beforeAt = aside ? aside.at : state.goodAt;
  const before = aside ? aside.value : state.goodValue;
  const pause = beforeAt >= 0 ? at - beforeAt : 0;
  const gap =
    course.pace > 0 && pause > GAP * course.pace && pause <= FORGET
      ? gapBefore(context, stream, own, at, pause)
      : null;
  const isGap = pause > 0 && takePause(course, pause) && stream.silenceMs === null;
  if (pause > FORGET) forgetRecent(course, at);
  const level = value - planned(stream, at);
  const departure = takeReading(course, at, level, limits, gap);
  const rest = takeRest(course, at, value === before, limits);
  const isFlat = rest.held >= rest.most;
  SEEN.reason = isFlat ? "flat_line" : null;
  SEEN.level = level;
  SEEN.departure = departure;
  SEEN.isFlat = isFlat;
  SEEN.most = rest.most;
  SEEN.isAir = false;
  SEEN.gap = isGap ? pause : 0;
  if (SEEN.reason !== null) own.aside = { at, value };
  else if (aside) own.aside = undefined;
  return SEEN;
}

/** A reading taken in air is kept from the course of the water: its stream goes on from where the water was. */
export function setAsideInAir(state: StreamState, at: Instant, value: number): void {
  const own = courseOf(state);
  own.airSince ??= at;
  own.aside = { at, value };
}

function seenInAir(own: CourseState, at: Instant, value: number, isAir: boolean): CourseObservation {
  own.airSince ??= at;
  own.aside = { at, value };
  SEEN.reason = "in_air";
  SEEN.level = value;
  SEEN.departure = null;
  SEEN.isFlat = false;
  SEEN.most = 0;
  SEEN.isAir = isAir;
  SEEN.gap = 0;
  return SEEN;
}

/**
 * The course of a stream from reading to reading: what the next reading should be, how far readings usually are from that, and whether this
 * one is quite unusual. A small state of plain numbers, moved by one good reading at a time, the same whatever the batches.
 */
import { medianInPlace } from "../statistics/robust.ts";
import { HOUR, type Instant, MINUTE } from "../time/instant.ts";
import { GAP, type Gap, unexplained } from "./across-gap.ts";
import { type CourseLimits, practical } from "./course-limits.ts";

export interface Course {
  /** Good readings taken. */
  n: number;
  /** The newest good readings and the steps between them, newest last. */
  recent: number[];
  steps: number[];
  /** Usual distance of a reading from what was expected, and of a reading from the one before it: means of clipped sizes. */
  departure: number;
  step: number;
  /** Usual size of the median of the last steps: how fast it goes, noise left out (missing in older checkpoints). */
  going?: number;
  /** The last reading that was unusual, how large that was, since when the value has not changed, its longest rest. */
  outAt: Instant;
  outSize: number;
  /** Which way the newest reading was unusual: 1 above, -1 below, 0 not (missing in older checkpoints). */
  outSide?: number;
  flatSince: Instant;
  longestFlat: number;
  /** When the last hours' longest rest is next halved: what was usual long ago counts less. */
  restUntil: Instant;
  /** Usual pause between good readings, milliseconds; 0 before it is known. */
  pace: number;
  /** Impossible readings in a row, and the first of them. */
  wild: number;
  wildSince: Instant;
  /** Mean of the readings, those that read as if in air left out; and how many of those there were in a row. */
  usual: number;
  air: number;
}

export const emptyCourse = (): Course => ({
  n: 0,
  recent: [],
  steps: [],
  departure: 0,
  step: 0,
  going: 0,
  outAt: Number.MIN_SAFE_INTEGER,
  outSize: 0,
  outSide: 0,
  flatSince: 0,
  longestFlat: 0,
  restUntil: 0,
  pace: 0,
  wild: 0,
  wildSince: 0,
  usual: 0,
  air: 0,
});

const SCALARS = 15;

/** A course as one array of numbers: a third of the memory. Changing the course changes nothing of it. */
export function packCourse(c: Course): readonly number[] {
  const { n, departure, step, outAt, outSize, flatSince, longestFlat } = c;
  const { restUntil, pace, wild, wildSince, usual, air, recent, steps } = c;
  const first = [n, departure, step, outAt, outSize, flatSince, longestFlat, restUntil, pace, wild];
  return first.concat([wildSince, usual, air, c.outSide ?? 0, c.going ?? 0, recent.length], recent, steps);
}

/** The course that was packed. */
export function unpackCourse(packed: readonly number[]): Course {
  const at = (index: number) => packed[index] as number;
  const steps = SCALARS + 1 + at(SCALARS);
  return {
    n: at(0),
    recent: packed.slice(SCALARS + 1, steps),
    steps: packed.slice(steps),
    departure: at(1),
    step: at(2),
    going: at(14),
    outAt: at(3),
    outSize: at(4),
    outSide: at(13),
    flatSince: at(5),
    longestFlat: at(6),
    restUntil: at(7),
    pace: at(8),
    wild: at(9),
    wildSince: at(10),
    usual: at(11),
    air: at(12),
  };
}

const RECENT = 5;
const STEPS = 9;
/** Readings before anything is claimed. */
const LEARNT = 60;
/** Readings over which what is usual is averaged. */
const MEMORY = 200;
/** So long after a step another one, no larger than this many times it, is the same story. */
const SAME_STORY = 2 * HOUR;
const LARGER = 1.5;

const scratch = new Float64Array(STEPS);

/** Median of a short list, without making garbage: this runs for every reading. */
function medianOfFew(values: readonly number[], n: number = values.length): number {
  for (let i = 0; i < n; i++) scratch[i] = values[i] as number;
  return medianInPlace(scratch, n);
}

export interface Departure {
  /** What was expected, and how far from it the reading is. */
  readonly expected: number;
  readonly size: number;
  readonly threshold: number;
  /** Unusual and more than a keeper would let pass. */
  readonly isOut: boolean;
  /** It begins something new, and is not one more of what was found a short while ago. */
  readonly isNew: boolean;
  /** Unusual, and the reading before it was not, or to the other side: nothing confirms it yet. */
  readonly isAlone: boolean;
  /** Readings jump to and fro by more than is usual and practical. */
  readonly isNoisy: boolean;
  readonly jump: number;
}

/** A mean of sizes in which no single one counts for much more than four of the usual ones. */
function custom(usual: number, size: number, n: number, floor: number): number {
  const weight = Math.max(1 / n, 1 / MEMORY);
  return usual + weight * (Math.min(size, Math.max(4 * usual, floor)) - usual);
}

/** Steps looked at for noise; so many of them must be large, and so many be turns. */
const NOISE_STEPS = 8;
const NOISE_LARGE = 7;
const NOISE_TURNS = 6;
/** A jump to and fro is wanted to be this much larger than a step that is worth a word. */
const NOISE_FLOOR = 1.5;

/** Readings jump to and fro: nearly all of the last steps are large, and nearly each goes back on the one before. */
function isToAndFro(steps: readonly number[], threshold: number): boolean {
  if (steps.length < NOISE_STEPS) return false;
  let large = 0;
  let turns = 0;
  const first = steps.length - NOISE_STEPS;
  for (let i = first; i < steps.length; i++) {
    const step = steps[i] as number;
    if (Math.abs(step) > threshold) large++;
    if (i > first && step * (steps[i - 1] as number) < 0) turns++;
  }
  return large >= NOISE_LARGE && turns >= NOISE_TURNS;
}

function push(values: number[], value: number, most: number): void {
  if (values.length === most) values.shift();
  values.push(value);
}

/** Its course continues from the reading after a gap at the average rate across it: how it went before the gap may be long over. */
function carryOn(course: Course, value: number, missed: number): void {
  const { recent, steps } = course;
  const each = (value - (recent[recent.length - 1] as number)) / (missed + 1);
  for (let i = 0; i < recent.length; i++) recent[i] = value - each * (recent.length - i);
  steps.fill(each);
}

/**
 * Take one good reading (minus its plan). Null while there is too little behind it to say anything. `gap`: what is known of the time before it,
 * where readings were missing; a change which that explains is none, and its course goes on from the new level. Changes `course`.
 */
export function takeReading(
  course: Course,
  at: Instant,
  value: number,
  limits: CourseLimits,
  gap: Gap | null = null,
): Departure | null {
  const { recent, steps } = course;
  course.n++;
  course.wild = 0;
  const last = recent[recent.length - 1];
  let found: Departure | null = null;
  let side = 0;
  if (last !== undefined) push(steps, value - last, STEPS);
  if (recent.length === RECENT) {
    // The median lies half the window back; the usual step carries it to now.
    const middle = medianOfFew(recent);
    const lead = steps.length > 1 ? medianOfFew(steps, steps.length - 1) : 0;
    const expected = middle + lead * ((RECENT + 1) / 2);
    const whole = value - expected;
    const size = gap ? unexplained(whole, lead, course.going ?? 0, gap) : whole;
    const floor = practical(limits.step, limits.stepShare, middle);
    const threshold = Math.max(floor, limits.custom * course.departure);
    const isOut = course.n > LEARNT && Math.abs(size) > threshold;
    if (isOut) side = Math.sign(size);
    const isAlone = isOut && side !== course.outSide;
    const isNew = isOut && (at - course.outAt > SAME_STORY || Math.abs(size) > LARGER * course.outSize);
    const noise = Math.max(NOISE_FLOOR * floor, limits.custom * course.step);
    const isNoisy = course.n > LEARNT && isToAndFro(steps, noise);
    const jump = Math.abs(value - (last as number));
    found = { expected: value - size, size, threshold, isOut, isNew, isAlone, isNoisy, jump };
    if (gap && !isOut) carryOn(course, value, gap.missed);
    else {
      course.departure = custom(course.departure, Math.abs(size), course.n, floor / 8);
      course.step = custom(course.step, jump, course.n, floor / 8);
      course.going = custom(course.going ?? 0, Math.abs(lead), course.n, floor / 8);
    }
    if (isOut) {
      course.outSize =
        at - course.outAt > SAME_STORY ? Math.abs(size) : Math.max(course.outSize, Math.abs(size));
      course.outAt = at;
    }
  }
  course.outSide = side;
  push(recent, value, RECENT);
  return found;
}

/** Shorter rests are never called stuck, however lively the stream usually is. */
const LEAST_REST = 6 * HOUR;
/** How many times its longest rest a stream may rest before it is stuck. */
const RESTS = 8;
const REST_MEMORY = 3 * 24 * HOUR;

/**
 * How long a value has stood to its last digit, and how long is too long: eight times the longest rest seen in the last days, at least six
 * hours and at most what holds for the quantity. `isSame`: the reading equals the one before it. Changes `course`.
 */
export function takeRest(
  course: Course,
  at: Instant,
  isSame: boolean,
  limits: CourseLimits,
): { readonly held: number; readonly most: number } {
  if (course.restUntil === 0) course.restUntil = at + REST_MEMORY;
  if (!isSame) {
    if (course.n > 1) course.longestFlat = Math.max(course.longestFlat, at - course.flatSince);
    course.flatSince = at;
  }
  if (at >= course.restUntil) {
    course.longestFlat /= 2;
    course.restUntil = at + REST_MEMORY;
  }
  const learnt = course.longestFlat > 0 && course.n > 4 * LEARNT;
  const most = learnt
    ? Math.min(limits.flatMs, Math.max(LEAST_REST, RESTS * course.longestFlat))
    : limits.flatMs;
  return { held: at - course.flatSince, most };
}

const SHORTEST_GAP = 25 * MINUTE;

/** Whether the pause before this good reading is a gap: readings were missing for half an hour and more. Changes `course`. */
export function takePause(course: Course, pause: number): boolean {
  const isGap = course.n > LEARNT && course.pace > 0 && pause > SHORTEST_GAP && pause > GAP * course.pace;
  if (course.pace === 0) course.pace = pause;
  else course.pace += 0.1 * (Math.min(pause, 2 * course.pace) - course.pace);
  return isGap;
}

/** A share of the usual reading so small that the probe is out of the water. Common practice, no source. */
const IN_AIR = 0.1;

/** How many readings in a row were those of a probe in air. Changes `course`. */
export function takeLevel(course: Course, value: number): number {
  const isAir = course.n > LEARNT && value < IN_AIR * course.usual;
  course.air = isAir ? course.air + 1 : 0;
  if (!isAir) course.usual += Math.max(1 / Math.max(1, course.n), 1 / MEMORY) * (value - course.usual);
  return course.air;
}

/** After a long pause nothing is known of where the next reading should be. */
export function forgetRecent(course: Course, at: Instant): void {
  course.recent = [];
  course.steps = [];
  course.flatSince = at;
}

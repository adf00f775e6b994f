/**
 * States that are kept to go back to when a reading comes out of order: as light as can be, because every stream of the last hours has
 * several. What is not changed in place is shared with the live state, and numbers lie in arrays of numbers, where they take a third of
 * what they take as members of an object.
 */
import { packCourse, unpackCourse } from "../drift/course.ts";
import { CONDITIONS } from "./conditions.ts";
import {
  type Accumulator,
  type Condition,
  type CourseState,
  eachCondition,
  emptyCondition,
  isIdle,
  type StreamState,
  type WaterState,
} from "./water-state.ts";

/** What of a course is changed in place is copied; the rest is replaced when it changes, and shared. */
const copyAround = <T extends Omit<CourseState, "course">>(state: T): T => ({
  ...state,
  reference: { ...state.reference },
  trend: { ...state.trend },
  rates: state.rates.slice(),
});

const copyCondition = (c: Condition): Condition => ({
  since: c.since,
  back: c.back,
  level: c.level,
  worst: c.worst,
  open: c.open ? { ...c.open } : null,
});

type Rollups = StreamState["rollups"];
const NO_ROLLUPS: Rollups = [null, null, null];
const ACCUMULATED = 8;

const numbersOf = ({ start, n, good, min, max, sum, first, last }: Accumulator): number[] => [
  start,
  n,
  good,
  min,
  max,
  sum,
  first,
  last,
];

/** The three rollups as one array of numbers, a third of the memory. The first reading of a stream opens all three. */
const packRollups = ([quarter, hours, day]: Rollups): readonly number[] | null =>
  quarter && hours && day ? numbersOf(quarter).concat(numbersOf(hours), numbersOf(day)) : null;

function unpackRollups(packed: readonly number[] | null): Rollups {
  if (packed === null) return [...NO_ROLLUPS];
  const at = (index: number) => packed[index] as number;
  const from = (i: number): Accumulator => ({
    start: at(i),
    n: at(i + 1),
    good: at(i + 2),
    min: at(i + 3),
    max: at(i + 4),
    sum: at(i + 5),
    first: at(i + 6),
    last: at(i + 7),
  });
  return [from(0), from(ACCUMULATED), from(2 * ACCUMULATED)];
}

interface CourseSnapshot extends Omit<CourseState, "course"> {
  readonly course: readonly number[];
}
/** A stream as it stood. Its `t` and `v` are those of the live state, which have grown since: up to `end` they are its own. */
interface StreamSnapshot {
  /** Without rollups and course, which are packed. */
  readonly state: StreamState;
  readonly end: number;
  readonly rollups: readonly number[] | null;
  readonly course: CourseSnapshot | null;
}
/** A state to go back to, by `restoreSnapshot`: nothing can be folded into it. */
export interface WaterSnapshot extends Readonly<Omit<WaterState, "streams">> {
  readonly streams: ReadonlyMap<number, StreamSnapshot>;
}

/** What the conditions of most streams are most of the time; kept states share them. */
const IDLE: Readonly<Condition> = Object.freeze(emptyCondition());
const ALL_IDLE: StreamState["conditions"] = Object.freeze(eachCondition(() => IDLE));

function keepStream(s: StreamState): StreamSnapshot {
  const areIdle = CONDITIONS.every((name) => isIdle(s.conditions[name]));
  const conditions = areIdle
    ? ALL_IDLE
    : eachCondition((name) => (isIdle(s.conditions[name]) ? IDLE : copyCondition(s.conditions[name])));
  return {
    state: { ...s, conditions, rollups: NO_ROLLUPS, course: null },
    end: s.t.length,
    rollups: packRollups(s.rollups),
    course: s.course && { ...copyAround(s.course), course: packCourse(s.course.course) },
  };
}

/** A copy to keep and to go back to. */
export function snapshotOf(water: WaterState): WaterSnapshot {
  const { frontier, pending, unpaired, dry } = water;
  const streams = new Map<number, StreamSnapshot>();
  for (const [id, stream] of water.streams) streams.set(id, keepStream(stream));
  return { frontier: { ...frontier }, streams, pending: [...pending], unpaired, dry };
}

/** A state to fold on from: changing it changes nothing of what was kept. */
export function restoreSnapshot({
  frontier,
  pending,
  unpaired,
  dry,
  streams: kept,
}: WaterSnapshot): WaterState {
  const streams = new Map<number, StreamState>();
  for (const [id, { state, end, rollups, course }] of kept)
    streams.set(id, {
      ...state,
      t: state.t.slice(state.head, end),
      v: state.v.slice(state.head, end),
      head: 0,
      rollups: unpackRollups(rollups),
      conditions: eachCondition((name) => copyCondition(state.conditions[name])),
      course: course && { ...copyAround(course), course: unpackCourse(course.course) },
    });
  return { frontier: { ...frontier }, streams, pending: [...pending], unpaired, dry };
}

/**
 * Event-time state of one system: what has to be remembered to judge the next reading. Plain data, so that it can be copied, kept as
 * a checkpoint and compared. It is a function of the readings folded so far, in order of (at, rank, stream), and of nothing else.
 */
import type { KeptEvidence, Level } from "../alarms/finding.ts";
import type { TestResult } from "../drift/bench-trend.ts";
import { type Course, emptyCourse } from "../drift/course.ts";
import { type DailyReference, emptyReference } from "../drift/daily-reference.ts";
import { emptyTwin, type Twin } from "../drift/twin.ts";
import { emptyTrend, type WeeklyTrend } from "../drift/weekly-trend.ts";
import type { FollowedLight } from "../light/index.ts";
import type { BenchCheck } from "../probes/bench-check.ts";
import type { Flag, Reason } from "../quality/flag.ts";
import type { Instant } from "../time/instant.ts";
import { CONDITIONS, type ConditionName } from "./conditions.ts";

export interface Accumulator {
  start: Instant;
  n: number;
  good: number;
  min: number;
  max: number;
  sum: number;
  first: number;
  last: number;
}
/** One thing that may be wrong with a stream (a side of its band, a direction of its rate, its state) and how far that has come. */
export interface Condition {
  /** Since when each level has been held without a break: look, action, urgent; null = not. Replaced, never changed in place. */
  since: readonly [look: Instant | null, action: Instant | null, urgent: Instant | null];
  /** Since when the value has been back, for the off-delay; null = not back. */
  back: Instant | null;
  /** The level held now, after delays. */
  level: Level;
  /** The worst since a streak began that is no finding yet. Replaced, never changed in place. */
  worst?: WorstSoFar | undefined;
  /** The open finding, if any. */
  open: OpenFinding | null;
}
interface WorstSoFar {
  readonly value: number;
  readonly at: Instant;
  readonly badness: number;
  readonly evidence: KeptEvidence;
}
export interface OpenFinding {
  id: string;
  rule: string;
  began: Instant;
  raised: Instant;
  peak: Level;
  late: boolean;
  worst: number;
  worstAt: Instant;
  badness: number;
  /** Replaced, never changed in place. */
  evidence: KeptEvidence;
}
/** What is remembered of the course of a stream whose course is judged. */
export interface CourseState {
  readonly course: Course;
  readonly reference: DailyReference;
  readonly trend: WeeklyTrend;
  /** The hour and the site day being gathered. */
  hour: Instant;
  day: Instant;
  /** Medians of the hours of this day. */
  hours: readonly number[];
  /** The last finished hours with their medians, newest last, for a twin to compare itself with. */
  finished: readonly (readonly [hour: Instant, middle: number])[];
  twin: Twin;
  /** How the last readings lay beside what is usual: 1 above what is allowed, -1 below, 0 within. */
  beside: readonly number[];
  /** Usual size of the slope over each rate window, in units an hour, and how often it was taken. */
  rates: number[];
  rated: number;
  /** The newest reading, where it was set aside as no evidence of the water. Replaced, never changed in place. */
  aside?: SetAside | undefined;
  /** Since when it has read as if in air; left out where it does not. */
  airSince?: Instant | undefined;
}
export interface SetAside {
  readonly at: Instant;
  readonly value: number;
}
export interface StreamState {
  /** Newest reading of any flag. */
  at: Instant;
  value: number;
  flag: Flag;
  reasons: readonly Reason[];
  mark: "below" | "above" | null;
  /** Interval of the value, where it has one. */
  lower: number | null;
  upper: number | null;
  deviation: number | null;
  received: Instant;
  /** The newest reading was found late; it came from an import or a recorded file, and so moves no alarm. */
  late: boolean;
  recorded: boolean;
  /** The gateway that its newest reading came from; left out where it came another way. */
  sender?: string | undefined;
  /** Newest good reading. */
  goodAt: Instant;
  goodValue: number;
  /** Milliseconds between the last two good readings. */
  pace: number;
  goodMark: "below" | "above" | null;
  /** Whether the wrong word now standing was found late. */
  lateSince: boolean;
  /** Good readings minus their plan over the longest rate window; from `head` on. Only ever added to: kept states share them. */
  t: number[];
  v: number[];
  head: number;
  /** Of a probe: its chart against the bench since it was last set right. */
  check: BenchCheck | null;
  rollups: [Accumulator | null, Accumulator | null, Accumulator | null];
  conditions: Record<ConditionName, Condition>;
  /** Null for a stream whose course is not judged, and before its first reading. */
  course: CourseState | null;
  /** Of the stream that speaks for a system's light. Replaced, never changed in place. */
  light?: FollowedLight;
  /** Of a bench stream: its last results, oldest first. Replaced, never changed in place. */
  results?: readonly TestResult[];
}
export interface WaterState {
  /** The position reached: a reading that sorts behind it can be folded, one before it asks for judging again. */
  frontier: { at: Instant; rank: number; stream: number };
  streams: Map<number, StreamState>;
  /** State streams whose wrong word has not yet lasted its delay. */
  pending: number[];
  /** Bench results that wait for the probe's readings after their sample. Replaced, never changed in place. */
  unpaired: readonly Unpaired[];
  /** Points that are out of the water. Replaced, never changed in place. */
  dry: readonly DryPlace[];
}
export interface DryPlace {
  readonly point: string;
  readonly since: Instant;
  /** The stream that says so. */
  readonly by: number;
}
export interface Unpaired {
  readonly probe: number;
  readonly at: Instant;
  readonly value: number;
  readonly late: boolean;
}

export const NEVER = -1;

export const NOT_HELD: Condition["since"] = [null, null, null];

export const emptyCondition = (): Condition => ({
  since: NOT_HELD,
  back: null,
  level: 0,
  open: null,
});

export const emptyWater = (): WaterState => ({
  frontier: { at: NEVER, rank: NEVER, stream: NEVER },
  streams: new Map(),
  pending: [],
  unpaired: [],
  dry: [],
});

export const eachCondition = (
  make: (name: ConditionName) => Condition,
): Record<ConditionName, Condition> => ({
  high: make("high"),
  low: make("low"),
  rising: make("rising"),
  falling: make("falling"),
  state: make("state"),
  probe: make("probe"),
  step: make("step"),
  noise: make("noise"),
  flat: make("flat"),
  exposed: make("exposed"),
  usual: make("usual"),
  trend: make("trend"),
  twin: make("twin"),
  dark: make("dark"),
  hours: make("hours"),
  phase: make("phase"),
});

export const emptyStream = (): StreamState => ({
  at: NEVER,
  value: 0,
  flag: 9,
  reasons: [],
  mark: null,
  lower: null,
  upper: null,
  deviation: null,
  received: NEVER,
  late: false,
  recorded: false,
  goodAt: NEVER,
  goodValue: 0,
  pace: 0,
  goodMark: null,
  lateSince: false,
  t: [],
  v: [],
  head: 0,
  check: null,
  rollups: [null, null, null],
  conditions: eachCondition(emptyCondition),
  course: null,
});

export const emptyCourseState = (): CourseState => ({
  course: emptyCourse(),
  reference: emptyReference(),
  trend: emptyTrend(),
  hour: NEVER,
  day: NEVER,
  hours: [],
  finished: [],
  twin: emptyTwin,
  beside: [],
  rates: [],
  rated: 0,
});

/** Nothing is wrong with it, and nothing is coming to be. */
export function isIdle(c: Condition): boolean {
  const [look, action, urgent] = c.since;
  return (
    c.level === 0 && c.open === null && c.back === null && look === null && action === null && urgent === null
  );
}

/** Canonical text: equal states give equal text, whatever order they were filled in. Conditions that are idle are left out. */
export function writeWater({ frontier, streams, pending, unpaired, dry }: WaterState): string {
  const written = [...streams].sort(([a], [b]) => a - b);
  return JSON.stringify({
    frontier,
    pending,
    unpaired,
    dry,
    streams: written.map(([id, { conditions, ...stream }]) => [
      id,
      {
        ...stream,
        t: stream.t.slice(stream.head),
        v: stream.v.slice(stream.head),
        head: 0,
        conditions: Object.fromEntries(
          CONDITIONS.filter((name) => !isIdle(conditions[name])).map((name) => [name, conditions[name]]),
        ),
      },
    ]),
  });
}

type WrittenStream = Omit<StreamState, "conditions" | "recorded"> & {
  readonly recorded?: boolean;
  readonly conditions: Partial<StreamState["conditions"]>;
};

/** The state of a checkpoint's text, as writeWater made it; what an older one did not know begins empty. */
export function readWater(text: string): WaterState {
  const { frontier, pending, unpaired, dry, streams } = JSON.parse(text) as {
    frontier: WaterState["frontier"];
    pending: number[];
    /** Not in checkpoints of before there were any. */
    unpaired?: Unpaired[];
    dry?: DryPlace[];
    streams: [number, WrittenStream][];
  };
  return {
    frontier,
    pending,
    unpaired: unpaired ?? [],
    dry: dry ?? [],
    streams: new Map(
      streams.map(([id, stream]) => {
        const empty = emptyStream();
        // Of an older checkpoint's late readings nobody knows which were history.
        const recorded = stream.recorded ?? stream.late;
        const conditions = { ...empty.conditions, ...stream.conditions };
        return [id, { ...empty, ...stream, recorded, conditions }];
      }),
    ),
  };
}

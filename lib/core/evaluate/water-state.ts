/**
 * Event-time state of one system: what has to be remembered to judge the next reading. Plain data, so that it can be copied, kept as
 * a checkpoint and compared. It is a function of the readings folded so far, in order of (at, rank, stream), and of nothing else.
 */
import type { Level } from "../alarms/finding.ts";
import type { Flag, Reason } from "../quality/flag.ts";
import type { Instant } from "../time/instant.ts";

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
export const CONDITIONS = ["high", "low", "rising", "falling", "state"] as const;
export type ConditionName = (typeof CONDITIONS)[number];

/** One thing that may be wrong with a stream (a side of its band, a direction of its rate, its state) and how far that has come. */
export interface Condition {
  /** Since when each level has been held without a break: look, action, urgent; null = not. Replaced, never changed in place. */
  since: readonly [look: Instant | null, action: Instant | null, urgent: Instant | null];
  /** Since when the value has been back, for the off-delay; null = not back. */
  back: Instant | null;
  /** The level held now, after delays. */
  level: Level;
  /** The open finding, if any. */
  open: OpenFinding | null;
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
  evidence: Readonly<Record<string, number | string | null>>;
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
  /** The newest reading was found late: it says nothing about now and moves no alarm. */
  late: boolean;
  /** Newest good reading. */
  goodAt: Instant;
  goodValue: number;
  /** Milliseconds between the last two good readings. */
  pace: number;
  goodMark: "below" | "above" | null;
  /** Whether the wrong word now standing was found late. */
  lateSince: boolean;
  /** Good readings less their plan over the longest rate window; from `head` on. */
  t: number[];
  v: number[];
  head: number;
  rollups: [Accumulator | null, Accumulator | null, Accumulator | null];
  conditions: Record<ConditionName, Condition>;
}
export interface WaterState {
  /** The position reached: a reading that sorts behind it can be folded, one before it asks for judging again. */
  frontier: { at: Instant; rank: number; stream: number };
  streams: Map<number, StreamState>;
  /** State streams whose wrong word has not yet lasted its delay. */
  pending: number[];
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
  goodAt: NEVER,
  goodValue: 0,
  pace: 0,
  goodMark: null,
  lateSince: false,
  t: [],
  v: [],
  head: 0,
  rollups: [null, null, null],
  conditions: {
    high: emptyCondition(),
    low: emptyCondition(),
    rising: emptyCondition(),
    falling: emptyCondition(),
    state: emptyCondition(),
  },
});

const copyCondition = (c: Condition): Condition => ({
  since: c.since,
  back: c.back,
  level: c.level,
  open: c.open ? { ...c.open } : null,
});

/** What most conditions are most of the time; kept copies share this one. */
const IDLE: Readonly<Condition> = Object.freeze(emptyCondition());

function keptCondition(c: Condition): Condition {
  const [look, action, urgent] = c.since;
  const isIdle =
    c.level === 0 &&
    c.open === null &&
    c.back === null &&
    look === null &&
    action === null &&
    urgent === null;
  return isIdle ? IDLE : copyCondition(c);
}

const copyAccumulator = (a: Accumulator | null): Accumulator | null => (a ? { ...a } : null);

function copyStream(s: StreamState, copy: (condition: Condition) => Condition): StreamState {
  const { high, low, rising, falling, state } = s.conditions;
  return {
    ...s,
    t: s.t.slice(s.head),
    v: s.v.slice(s.head),
    head: 0,
    rollups: [copyAccumulator(s.rollups[0]), copyAccumulator(s.rollups[1]), copyAccumulator(s.rollups[2])],
    conditions: {
      high: copy(high),
      low: copy(low),
      rising: copy(rising),
      falling: copy(falling),
      state: copy(state),
    },
  };
}

function copyWith(water: WaterState, copy: (condition: Condition) => Condition): WaterState {
  const streams = new Map<number, StreamState>();
  for (const [id, stream] of water.streams) streams.set(id, copyStream(stream, copy));
  return { frontier: { ...water.frontier }, streams, pending: [...water.pending] };
}

/** A copy to fold on from: changing it changes nothing of the original. */
export const copyWater = (water: WaterState): WaterState => copyWith(water, copyCondition);

/** A copy to keep and to go back to. Nothing may be folded into it, only into a `copyWater` of it: its idle conditions are shared. */
export const keepWater = (water: WaterState): WaterState => copyWith(water, keptCondition);

/** Canonical text: equal states give equal text, whatever order they were filled in. */
export function writeWater(water: WaterState): string {
  const { frontier, streams, pending } = copyWater(water);
  return JSON.stringify({ frontier, pending, streams: [...streams].sort(([a], [b]) => a - b) });
}

/** The state of a checkpoint's text, as writeWater made it. */
export function readWater(text: string): WaterState {
  const { frontier, pending, streams } = JSON.parse(text) as {
    frontier: WaterState["frontier"];
    pending: number[];
    streams: [number, StreamState][];
  };
  return { frontier, pending, streams: new Map(streams) };
}

/**
 * Event-time state of one system: what has to be remembered to judge the next reading. Plain data, so that it can be copied, kept as
 * a checkpoint and compared. It is a function of the readings folded so far, in order of (at, rank, stream), and of nothing else.
 */
import type { Level } from "../alarms/finding.ts";
import type { BenchCheck } from "../probes/bench-check.ts";
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
export const CONDITIONS = ["high", "low", "rising", "falling", "state", "probe"] as const;
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
  /** Of a probe: its chart against the bench since it was last set right. */
  check: BenchCheck | null;
  rollups: [Accumulator | null, Accumulator | null, Accumulator | null];
  conditions: Record<ConditionName, Condition>;
}
export interface WaterState {
  /** The position reached: a reading that sorts behind it can be folded, one before it asks for judging again. */
  frontier: { at: Instant; rank: number; stream: number };
  streams: Map<number, StreamState>;
  /** State streams whose wrong word has not yet lasted its delay. */
  pending: number[];
  /** Bench results that wait for the probe's readings after their sample. Replaced, never changed in place. */
  unpaired: readonly Unpaired[];
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
  check: null,
  rollups: [null, null, null],
  conditions: {
    high: emptyCondition(),
    low: emptyCondition(),
    rising: emptyCondition(),
    falling: emptyCondition(),
    state: emptyCondition(),
    probe: emptyCondition(),
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
  const { high, low, rising, falling, state, probe } = s.conditions;
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
      probe: copy(probe),
    },
  };
}

function copyWith(water: WaterState, copy: (condition: Condition) => Condition): WaterState {
  const streams = new Map<number, StreamState>();
  for (const [id, stream] of water.streams) streams.set(id, copyStream(stream, copy));
  return {
    frontier: { ...water.frontier },
    streams,
    pending: [...water.pending],
    unpaired: water.unpaired,
  };
}

/** A copy to fold on from: changing it changes nothing of the original. */
export const copyWater = (water: WaterState): WaterState => copyWith(water, copyCondition);

/** A copy to keep and to go back to. Nothing may be folded into it, only into a `copyWater` of it: its idle conditions are shared. */
export const keepWater = (water: WaterState): WaterState => copyWith(water, keptCondition);

/** Canonical text: equal states give equal text, whatever order they were filled in. */
export function writeWater(water: WaterState): string {
  const { frontier, streams, pending, unpaired } = copyWater(water);
  return JSON.stringify({ frontier, pending, unpaired, streams: [...streams].sort(([a], [b]) => a - b) });
}

/** The state of a checkpoint's text, as writeWater made it. */
export function readWater(text: string): WaterState {
  const { frontier, pending, unpaired, streams } = JSON.parse(text) as {
    frontier: WaterState["frontier"];
    pending: number[];
    /** Not in checkpoints of before there were any. */
    unpaired?: Unpaired[];
    streams: [number, StreamState][];
  };
  for (const [, stream] of streams) {
    stream.check ??= null;
    stream.conditions.probe ??= emptyCondition();
  }
  return { frontier, pending, unpaired: unpaired ?? [], streams: new Map(streams) };
}

import type { Finding } from "../alarms/finding.ts";
import type { Flag, Reason } from "../quality/flag.ts";
import type { RollupRow } from "../quality/rollup.ts";
import type { Instant } from "../time/instant.ts";

export interface FlagRow {
  readonly stream: number;
  readonly at: Instant;
  readonly flag: Flag;
  readonly reasons: readonly Reason[];
}
export interface DerivedRow {
  readonly stream: number;
  readonly at: Instant;
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
  readonly formula: string;
}

/** What folding readings produced since the outputs were last taken; open rollups and findings are added when they are. */
export interface Outputs {
  readonly flags: FlagRow[];
  readonly derived: DerivedRow[];
  readonly rollups: RollupRow[];
  readonly findings: Map<string, Finding>;
  /** Streams whose state changed. */
  readonly touched: Set<number>;
  /** Streams in the order in which they changed, named each time: what one reading touched is what it added. */
  readonly recent: number[];
}

export const emptyOutputs = (): Outputs => ({
  flags: [],
  derived: [],
  rollups: [],
  findings: new Map(),
  touched: new Set(),
  recent: [],
});

/** One reading as the evaluator takes it. */
export interface Input {
  readonly stream: number;
  readonly at: Instant;
  readonly value: number;
  readonly received: Instant;
  /** Possible repeat, conflict and doubt make it suspect; below and above are censored results. */
  readonly mark: "possible_repeat" | "conflict" | "not_sure" | "below" | "above" | null;
  /** From an import or a recorded file: kept at its own time, calls nobody. */
  readonly recorded: boolean;
  /** Short name of the gateway it came from; left out where it came another way. */
  readonly sender?: string | undefined;
  /** Stamped by a clock that ran ahead, and nobody has placed it: kept and flagged, no part of the history. */
  readonly held?: boolean;
}

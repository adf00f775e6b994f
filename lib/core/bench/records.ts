/** Bench tests and their results as rows: as typed, never changed. */
import type { Instant } from "../time/instant.ts";
import type { Answer } from "./answer.ts";

export interface NewBenchResult {
  readonly id: string;
  readonly stream: number;
  readonly quantity: string;
  /** As typed, e.g. "8.10" (significant figures kept). */
  readonly typed: string;
  readonly qualifier: "=" | "<" | ">";
  readonly unitTyped: string;
  /** In the registry's unit. */
  readonly value: number;
  readonly method: string | null;
  readonly replicate: number;
  /** The result this one corrects, with the reason; null for a first entry. */
  readonly supersedes: string | null;
  readonly reason: string | null;
  /** What the tester said to the question about it; null where nothing was asked. */
  readonly answer: Answer | null;
  /** The question as it was put. */
  readonly asked: string | null;
}
export interface NewBenchTest {
  readonly id: string;
  readonly clientId: string;
  readonly system: string;
  readonly point: string;
  readonly sampledAt: Instant;
  readonly enteredAt: Instant;
  readonly analyst: string;
  readonly note: string | null;
  readonly results: readonly NewBenchResult[];
}
export interface BenchOutcome {
  readonly id: string;
  readonly received: Instant;
  /** True where a test with this client id was already stored: nothing was written again. */
  readonly repeated: boolean;
}
/** A result in force (not superseded), as charts and the evaluator read it. */
export interface BenchResult extends NewBenchResult {
  readonly test: string;
  readonly at: Instant;
  readonly received: Instant;
  readonly analyst: string;
}

/** A result entered by mistake: it counts nowhere, and stays. */
export interface BenchVoid {
  readonly id: string;
  readonly clientId: string;
  readonly result: string;
  readonly by: string;
  readonly byId: string;
  readonly reason: string;
  readonly at: Instant;
  readonly received: Instant;
}
/** A test as stored; `corrected` and `voided` name the rows that put a result out of force. */
export interface StoredBenchTest extends Omit<NewBenchTest, "results"> {
  readonly received: Instant;
  readonly results: readonly (NewBenchResult & {
    readonly corrected: string | null;
    readonly voided: string | null;
  })[];
}

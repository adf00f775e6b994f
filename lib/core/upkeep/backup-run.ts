import type { Instant } from "../time/instant.ts";

/** What a backup holds, found by reading it. */
export interface BackupFacts {
  readonly bytes: number;
  readonly readings: number;
  /** Receive instant of the last thing in it: what a restore brings back. Null where nothing was ever received. */
  readonly upTo: Instant | null;
  readonly schema: number;
}
/** One attempt, as it is remembered. */
export interface BackupRun {
  readonly file: string;
  readonly bytes: number;
  readonly began: Instant;
  readonly finished: Instant;
  /** Null where it was made and verified; else what went wrong. */
  readonly trouble: string | null;
  readonly readings: number | null;
  readonly upTo: Instant | null;
}

import type { Instant } from "../time/instant.ts";

/** One version of a log entry as written; a closing and a correction are versions of their own that point at the one before. */
export interface LogVersion {
  readonly id: string;
  /** The first version's id: what people and links mean by the entry. */
  readonly root: string;
  readonly clientId: string;
  readonly change: "first" | "close" | "correct";
  /** The version before; null for the first. */
  readonly supersedes: string | null;
  /** Why it was corrected. */
  readonly reason: string | null;
  readonly kind: string;
  /** Ids of systems. */
  readonly systems: readonly string[];
  readonly point: string | null;
  readonly quantity: string | null;
  readonly at: Instant;
  readonly until: Instant | null;
  readonly open: boolean;
  /** When what is out of service will be back. */
  readonly expected: Instant | null;
  readonly amount: number | null;
  readonly unit: string | null;
  readonly item: string | null;
  readonly animals: readonly string[];
  readonly text: string;
  /** The alarm this is the response to. */
  readonly alarm: string | null;
  readonly by: string;
  readonly byId: string;
  readonly entered: Instant;
}
export interface StoredLogVersion extends LogVersion {
  readonly received: Instant;
}
/** An entry with all its versions, the one in force last. */
export interface LogEntry {
  readonly root: string;
  readonly versions: readonly StoredLogVersion[];
}

/** The version in force. Throws where there is none, which a store never hands out. */
export function inForce(entry: LogEntry): StoredLogVersion {
  const last = entry.versions.at(-1);
  if (!last) throw new Error(`log entry ${entry.root} has no version`);
  return last;
}

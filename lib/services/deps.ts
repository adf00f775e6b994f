import type { Crossing } from "#core/forecast/forecast.ts";
import type { Grant } from "#core/people/index.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Store } from "#store/port.ts";
import type { IndexedSetUp, SetUpReader } from "./set-up.ts";

/** What a stream did since 18:00 site time. */
export interface Sweep {
  /** Null where no reading was good. */
  readonly low: number | null;
  readonly high: number | null;
  /** Readings received for that time, good or not. */
  readonly n: number;
}
export interface SweepReader {
  /** Lowest and highest good value, and the count, of each stream since 18:00 site time. */
  read(index: IndexedSetUp, now: Instant): Promise<ReadonlyMap<number, Sweep>>;
}

/** When a stream would cross a goal from one side, by its last weeks; null where they say nothing of it. */
export type Days = (goal: number, side: 1 | -1) => Crossing | null;
export interface AheadReader {
  /** What the last weeks of each stream say of a goal. An answer may be ten minutes old: its hours change once an hour. */
  read(streams: readonly number[], now: Instant): Promise<ReadonlyMap<number, Days>>;
}

/** What read services need; built once a process by an edge, and narrowed to what an actor may see (scope.ts). */
export interface ReadDeps {
  readonly store: Store;
  readonly clock: () => Instant;
  readonly setUp: SetUpReader;
  readonly sweep: SweepReader;
  readonly ahead: AheadReader;
  /** False where `setUp` was narrowed: what belongs to no system is refused then. */
  readonly seesAll: boolean;
}

export interface WriteDeps {
  readonly store: Store;
  readonly clock: () => Instant;
  readonly setUp: SetUpReader;
  /** A new UUIDv7 for a row made at this instant. */
  readonly newId: (now: Instant) => string;
}

/** Who is asking. Authenticated by the edge; what they may do is checked again by each service. */
export interface Actor {
  /** Of the account or token; "first-run" before anybody has one. */
  readonly id: string;
  /** As it appears in records. */
  readonly name: string;
  readonly kind: "person" | "token" | "first run";
  readonly grants: readonly Grant[];
  /** Signed in with a one-time password: may do nothing but change it. */
  readonly mustChange: boolean;
}

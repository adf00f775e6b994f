import type { Grant } from "#core/people/index.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Store } from "#store/port.ts";
import type { AheadReader } from "./overnight/ahead.ts";
import type { SetUpReader } from "./set-up.ts";
import type { SweepReader } from "./systems/sweep.ts";

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

/** Who asks. Proven by the edge; what they may do is checked again by each service. */
export interface Actor {
  /** Of the account or token; "first-run" before anybody has one. */
  readonly id: string;
  /** As it stands in records. */
  readonly name: string;
  readonly kind: "person" | "token" | "first run";
  readonly grants: readonly Grant[];
  /** Signed in with a one-time password: may do nothing but change it. */
  readonly mustChange: boolean;
}

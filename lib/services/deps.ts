import type { Instant } from "../core/time/instant.ts";
import type { Store } from "../store/port.ts";
import type { SetUpReader } from "./set-up.ts";
import type { SweepReader } from "./sweep.ts";

/** What read services need; built once a process by an edge. */
export interface ReadDeps {
  readonly store: Store;
  readonly clock: () => Instant;
  readonly setUp: SetUpReader;
  readonly sweep: SweepReader;
}

export interface WriteDeps {
  readonly store: Store;
  readonly clock: () => Instant;
  readonly setUp: SetUpReader;
  /** A new UUIDv7 for a row made at this instant. */
  readonly newId: (now: Instant) => string;
}

/** Who asks. Proven by the edge, checked again by each writing service. */
export interface Actor {
  /** As it stands in records. */
  readonly name: string;
  readonly may: ReadonlySet<"read" | "record">;
}

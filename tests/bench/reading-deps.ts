import type { Instant } from "#core/time/instant.ts";
import type { ReadDeps } from "#services/deps.ts";
import { createAheadReader } from "#services/overnight/ahead.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { createSweepReader } from "#services/systems/sweep.ts";
import type { Store } from "#store/port.ts";

/** What the read services stand on in the dashboard, for somebody who may see everything. */
export function readingDeps(store: Store, clock: () => Instant): ReadDeps {
  const deps = {
    store,
    clock,
    setUp: createSetUpReader(store, clock),
    sweep: createSweepReader(store),
    ahead: createAheadReader(store),
    seesAll: true,
  };
  return deps;
}

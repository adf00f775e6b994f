import type { Instant } from "../../lib/core/time/instant.ts";
import { createAheadReader } from "../../lib/services/ahead.ts";
import type { ReadDeps } from "../../lib/services/deps.ts";
import { createSetUpReader } from "../../lib/services/set-up.ts";
import { createSweepReader } from "../../lib/services/sweep.ts";
import type { Store } from "../../lib/store/port.ts";

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

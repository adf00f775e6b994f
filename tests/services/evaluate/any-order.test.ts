/** In whatever order and in whatever commits a record arrives, and whenever it is judged in between, the same is claimed in the end. */
import { beforeAll, describe, expect, it } from "vitest";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import type { Store } from "#store/port.ts";
import { seeded, seedOfRun } from "#tests/faults/home.ts";
import { type Cell, INTERVAL_MS, sondeRecord } from "#tests/faults/sonde-record.ts";
import { SITE, setUpSondes } from "#tests/faults/sonde-site.ts";
import { claimsOf, evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { firstDifference } from "#tests/helpers/first-difference.ts";
import { temporaryStore } from "#tests/helpers/open-store.ts";

const record = sondeRecord(600);
/** Seeds that once ended in wrong rollups: the live state wrote over what late work had already set right. */
const KNOWN = [15, 19, 20, 24, 29, 32, 34, 37, 39];
const MORE = 3;
const LONGEST_LAG = 3_000;
const LARGEST_COMMIT = 300;

/** Commits of a store's own clock, which moves by itself. */
async function recording(use: (commit: Commit, store: Store, clock: () => number) => Promise<void>) {
  const { store, dispose } = await temporaryStore();
  let now = Date.UTC(2026, 0, 1);
  try {
    await setUpSondes(store, { now, intervalMs: INTERVAL_MS, critical: false });
    const acceptor = createAcceptor({ store, clock: () => ++now });
    const commit: Commit = async (cells) => void (await acceptor.acceptBatch(++now, cells.map(messageOf)));
    await use(commit, store, () => now);
    return await claimsOf(store);
  } finally {
    await dispose();
  }
}
type Commit = (cells: readonly Cell[]) => Promise<void>;

const messageOf = ({ system, quantity, at, value }: Cell) => ({
  topic: `homewater/${SITE}/${system}/display/${quantity}`,
  payload: Buffer.from(JSON.stringify({ at, value, history: true })),
  client: "any order",
  dup: false,
  retain: false,
  qos: 1,
});

interface Lag {
  readonly until: number;
  readonly holds: (cell: Cell) => boolean;
  readonly cells: Cell[];
}

/** Now and then a probe, or all of a system, is away for up to some days, comes back with all it kept, and goes on as if nothing were. */
function withProbesAway(random: () => number): Cell[] {
  const order: Cell[] = [];
  let lag: Lag | null = null;
  for (const [index, cell] of record.cells.entries()) {
    if (!lag && random() < 0.003) {
      const isWhole = random() < 0.3;
      lag = {
        until: index + 100 + Math.floor(random() * LONGEST_LAG),
        holds: ({ system, quantity }) => system === cell.system && (isWhole || quantity === cell.quantity),
        cells: [],
      };
    }
    if (lag && index >= lag.until) {
      order.push(...lag.cells);
      lag = null;
    }
    (lag?.holds(cell) ? lag.cells : order).push(cell);
  }
  return lag ? [...order, ...lag.cells] : order;
}

const claimsInOrder = () =>
  recording(async (commit, store) => {
    for (let i = 0; i < record.cells.length; i += 500) await commit(record.cells.slice(i, i + 500));
    await evaluateAll(await evaluatorOf(store));
  });

const claimsInDisorder = (random: () => number) =>
  recording(async (commit, store, clock) => {
    const order = withProbesAway(random);
    let evaluator = await evaluatorOf(store, clock);
    for (let at = 0; at < order.length; ) {
      const size = 1 + Math.floor(random() ** 3 * LARGEST_COMMIT);
      await commit(order.slice(at, at + size));
      at += size;
      for (let pass = Math.floor(random() * 5); pass > 0; pass--)
        await evaluator.pass({ hurry: random() < 0.6 });
      // As after a kill: what it had in memory is gone.
      if (random() < 0.1) evaluator = await evaluatorOf(store, clock);
    }
    await evaluateAll(random() < 0.5 ? evaluator : await evaluatorOf(store, clock));
  });

describe("a record that arrives in disorder", () => {
  let inOrder: unknown;
  beforeAll(async () => {
    inOrder = await claimsInOrder();
  });

  const run = seedOfRun();
  for (const seed of [...KNOWN, ...Array.from({ length: MORE }, (_, i) => run + i)])
    it(`is claimed as one that arrives in order (seed ${seed})`, { timeout: 60_000 }, async () => {
      expect(firstDifference(await claimsInDisorder(seeded(seed)), inOrder)).toBeNull();
    });
});

/** What was set up and what people wrote, word for word as the store gives it back. */
import { answerIn } from "../../../lib/core/bench/ask.ts";
import type { BenchResult, Store } from "../../../lib/store/port.ts";

const EVER = { from: 0, to: Number.MAX_SAFE_INTEGER };

/** A result with what its tester said to the question about it; the question itself is the program's words. */
function testedOf({ reason, ...result }: BenchResult) {
  const answer = answerIn(reason);
  return { ...result, answer, reason: answer === null ? reason : null };
}

/** Streams by id, everything else in the store's own order. */
export async function storedFacts(store: Store): Promise<Readonly<Record<string, unknown>>> {
  const setUp = await store.readSetUp();
  const streams = setUp.streams.map(({ id }) => id);
  const bench = await store.benchBetween(streams, EVER.from, EVER.to, EVER.to);
  const handovers = await store.readHandovers({ limit: 100 });
  const log = await store.readLog({ limit: 1_000 });
  return {
    setUp,
    habitat: await store.readHabitat(),
    basis: (await store.readBandBasis(setUp.bands.map(({ id }) => id))).length,
    bench: bench.map(testedOf),
    log: log.map(({ versions }) =>
      versions.map(({ at, until, reason, text, item, by }) => ({ at, until, reason, text, item, by })),
    ),
    calibrations: await store.readCalibrations(),
    corrections: await store.readCorrections(streams),
    handovers: handovers.map(({ copy: _copy, ...handover }) => handover),
  };
}

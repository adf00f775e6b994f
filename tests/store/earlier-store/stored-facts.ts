/** What was set up, judged and written by people, word for word as the store gives it back. */
import type { BenchResult, JournalEntry, Store } from "#store/port.ts";
import { judgedOf } from "./judged.ts";

const EVER = { from: 0, to: Number.MAX_SAFE_INTEGER };

/** A test with where and when it was taken; its results stand under "bench". */
async function testsOf(store: Store, results: readonly BenchResult[]) {
  const found = new Map<string, unknown>();
  for (const { id } of results) {
    const test = await store.readBenchTest({ result: id });
    if (test) found.set(test.id, { ...test, results: test.results.map((row) => row.id) });
  }
  return [...found.values()];
}

/** What an entry of the journal has judged again and from when; a plain reference where it names a row. */
function namesOf({ ref, rejudge }: JournalEntry) {
  if (rejudge === null) return { row: ref };
  const { from } = rejudge;
  if ("system" in rejudge) return { what: "system", id: rejudge.system, from };
  return { what: "stream", id: String(rejudge.stream), from };
}
const journalled = (entry: JournalEntry) => ({
  seq: entry.seq,
  kind: entry.kind,
  received: entry.received,
  ...namesOf(entry),
  streams: entry.spans?.readings.length ?? 0,
});

/** Streams by id, everything else in the store's own order. */
export async function storedFacts(store: Store): Promise<Readonly<Record<string, unknown>>> {
  const setUp = await store.readSetUp();
  const streams = setUp.streams.map(({ id }) => id);
  const bench = await store.benchBetween(streams, EVER.from, EVER.to, EVER.to);
  const handovers = await store.readHandovers({ limit: 100 });
  const alarms = await store.readAlarms({ limit: 1_000 });
  const log = await store.readLog({ limit: 1_000 });
  return {
    setUp,
    habitat: await store.readHabitat(),
    basis: (await store.readBandBasis(setUp.bands.map(({ id }) => id))).length,
    bench,
    tests: await testsOf(store, bench),
    journal: (await store.journalAfter(0, 10_000)).map(journalled),
    log: log.map(({ versions }) =>
      versions.map(({ at, until, reason, text, item, by }) => ({ at, until, reason, text, item, by })),
    ),
    findings: await store.readFindings({ limit: 1_000 }),
    alarms,
    transitions: await Promise.all(alarms.map(({ id }) => store.readTransitions(id))),
    current: await store.readCurrent(),
    judged: await judgedOf(store, streams),
    calibrations: await store.readCalibrations(),
    corrections: await store.readCorrections(streams),
    handovers: handovers.map(({ copy: _copy, ...handover }) => handover),
  };
}

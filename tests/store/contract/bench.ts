import { expect, it } from "vitest";
import { benchTest, correction, eachWith, evaluator, type OpenSubject, T, withParts } from "./subject.ts";

export function describeBench(open: OpenSubject): void {
  const subject = eachWith(open);
  const all = (stream: number) => subject().store.benchBetween([stream], 0, T * 2, T * 2);

  it("stores a test with its results as typed, and says so in the journal", async () => {
    const { store, bench } = await withParts(subject().store);
    const test = benchTest(bench);
    expect(await store.recordBench(test, T + 3_000)).toEqual({
      id: "test-1",
      received: T + 3_000,
      repeated: false,
    });
    const stored = { ...test.results[0], test: "test-1", at: T + 1_000, received: T + 3_000, analyst: "Ada" };
    expect(await all(bench)).toEqual([stored]);
    const entries = await store.journalAfter(0, 10);
    expect(entries).toEqual([
      { seq: 1, kind: "bench", ref: "test-1", rejudge: null, spans: null, received: T + 3_000 },
    ]);
    expect(await store.benchOf(entries)).toEqual([stored]);
    expect(await store.readingsOf(entries)).toEqual([]);
  });

  it("stores a test once however often and from wherever it is sent", async () => {
    const { store, bench } = await withParts(subject().store);
    const other = await subject().another();
    const test = benchTest(bench);
    const outcomes = await Promise.all(
      [store, other, store, other].map((each) => each.recordBench(test, T + 5)),
    );
    expect(outcomes.filter((outcome) => !outcome.repeated)).toHaveLength(1);
    expect(new Set(outcomes.map((outcome) => outcome.received))).toEqual(new Set([T + 5]));
    expect(await store.recordBench({ ...test, note: "sent again" }, T + 99)).toEqual({
      id: "test-1",
      received: T + 5,
      repeated: true,
    });
    expect(await all(bench)).toHaveLength(1);
    expect(await store.journalAfter(0, 10)).toHaveLength(1);
  });

  it("puts a corrected result out of force, and keeps it for what was known before", async () => {
    const { store, bench } = await withParts(subject().store);
    await store.recordBench(benchTest(bench), T + 10);
    await store.recordBench(correction(bench, "result-2", "result-1", 7.9), T + 20);
    await store.recordBench(correction(bench, "result-3", "result-2", 7.4), T + 30);
    const known = async (upTo: number) =>
      (await store.benchBetween([bench], 0, T * 2, upTo)).map((result) => result.value);
    expect(await known(T + 9)).toEqual([]);
    expect(await known(T + 19)).toEqual([8.1]);
    expect(await known(T + 29)).toEqual([7.9]);
    expect(await known(T + 30)).toEqual([7.4]);
    const written = await store.benchOf(await store.journalAfter(0, 10));
    expect(written.map((result) => result.value).sort()).toEqual([7.4, 7.9, 8.1]);
  });

  it("refuses a second correction of one result and a result id used before, whole", async () => {
    const { store, bench } = await withParts(subject().store);
    await store.recordBench(benchTest(bench), T + 10);
    await store.recordBench(correction(bench, "result-2", "result-1", 7.9), T + 20);
    for (const bad of [
      correction(bench, "result-3", "result-1", 1),
      { ...benchTest(bench), id: "test-9", clientId: "client-9" },
      { ...benchTest(bench), clientId: "client-9" },
    ]) {
      await expect(store.recordBench(bad, T + 30)).rejects.toMatchObject({ code: "invalid" });
    }
    expect(await store.journalAfter(0, 10)).toHaveLength(2);
    expect((await all(bench)).map((result) => result.id)).toEqual(["result-2"]);
  });

  it("refuses a value that is no number", async () => {
    const { store, bench } = await withParts(subject().store);
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY]) {
      const bad = {
        ...benchTest(bench),
        results: benchTest(bench).results.map((result) => ({ ...result, value })),
      };
      await expect(store.recordBench(bad, T)).rejects.toMatchObject({ code: "invalid" });
    }
    expect(await store.journalAfter(0, 10)).toEqual([]);
  });

  it("draws results in force on a bench stream", async () => {
    const { store, bench } = await withParts(subject().store);
    await store.recordBench(benchTest(bench), T + 10);
    await store.recordBench(correction(bench, "result-2", "result-1", 7.9), T + 20);
    const query = { stream: bench, from: T, to: T + 5_000, resolution: "raw" as const, limit: 10 };
    expect(await store.readSeries(query)).toMatchObject({
      at: [T + 1_000],
      mean: [7.9],
      flag: [2],
      next: null,
    });
    const commit = await evaluator(store);
    await commit({ cursor: { seq: 2, received: T + 20 } });
    expect((await store.readSeries(query)).flag).toEqual([1]);
  });
}

import fc from "fast-check";
import { expect, it } from "vitest";
import { eachWith, type OpenSubject, T, withParts } from "./subject.ts";

export function describeAppend(open: OpenSubject): void {
  const subject = eachWith(open);

  it("stores readings with the delay they arrived with and tells each one's fate in order", async () => {
    const { store, temperature, source, reading, append } = await withParts(subject().store);
    const outcome = await append([
      reading(T - 3_000, 11.5),
      reading(T - 2_000, 11.25),
      reading(T + 500, -0.125),
    ]);
    expect(outcome).toEqual({ seq: 1, received: T, fates: ["stored", "stored", "stored"] });
    expect(await store.readingsBetween([temperature], T - 10_000, T + 10_000, T)).toEqual([
      { stream: temperature, at: T - 3_000, value: 11.5, received: T, source, mark: null },
      { stream: temperature, at: T - 2_000, value: 11.25, received: T, source, mark: null },
      { stream: temperature, at: T + 500, value: -0.125, received: T, source, mark: null },
    ]);
  });

  it("counts a repeat, within a batch and after it, and writes no journal row for one", async () => {
    const { store, reading, append } = await withParts(subject().store);
    const first = await append([reading(T, 4), reading(T, 4)]);
    expect(first.fates).toEqual(["stored", "duplicate"]);
    const second = await append([reading(T, 4)], T + 50);
    expect(second).toEqual({ seq: null, received: T + 50, fates: ["duplicate"] });
    expect(await store.journalAfter(0, 10)).toHaveLength(1);
    expect((await store.status()).counts).toMatchObject({ readings: 1, duplicates: 2, conflicts: 0 });
  });

  it("keeps another value for the same moment beside the first, never over it", async () => {
    const { store, temperature, reading, append } = await withParts(subject().store);
    await append([reading(T, 4)]);
    const outcome = await append([reading(T + 1, 5), reading(T, 4.5), reading(T, 4.5)], T + 1_000);
    expect(outcome.fates).toEqual(["stored", "conflict", "duplicate"]);
    const [, entry] = await store.journalAfter(0, 10);
    expect(entry?.spans).toEqual({ readings: [[temperature, T + 1, T + 1]], conflicts: [[temperature, T]] });
    const between = await store.readingsBetween([temperature], T, T + 10, T + 1_000);
    expect(between.map((row) => [row.value, row.mark])).toEqual([
      [4, "conflict"],
      [5, null],
    ]);
    expect((await store.status()).counts).toMatchObject({ readings: 2, duplicates: 1, conflicts: 1 });
  });

  it("does not show a conflict to an evaluation of what was known before it", async () => {
    const { store, temperature, reading, append } = await withParts(subject().store);
    await append([reading(T, 4)]);
    await append([reading(T, 5)], T + 1_000);
    const [before] = await store.readingsBetween([temperature], T, T + 1, T + 999);
    const [after] = await store.readingsBetween([temperature], T, T + 1, T + 1_000);
    expect([before?.mark, after?.mark]).toEqual([null, "conflict"]);
  });

  it("writes a journal row for a conflict alone", async () => {
    const { store, temperature, reading, append } = await withParts(subject().store);
    await append([reading(T, 4)]);
    const outcome = await append([reading(T, 5)], T + 9);
    expect(outcome).toEqual({ seq: 2, received: T + 9, fates: ["conflict"] });
    const [, entry] = await store.journalAfter(0, 10);
    expect(entry?.spans).toEqual({ readings: [], conflicts: [[temperature, T]] });
    expect(entry === undefined ? null : await store.readingsOf([entry])).toEqual([]);
  });

  it("keeps the mark a reading came with, and no mark of a repeat", async () => {
    const { store, temperature, reading, append } = await withParts(subject().store);
    await append([reading(T, 4, { mark: "possible_repeat" }), reading(T + 1, 4)]);
    await append([reading(T + 1, 4, { mark: "possible_repeat" })]);
    const rows = await store.readingsBetween([temperature], T, T + 2, T + 10);
    expect(rows.map((row) => row.mark)).toEqual(["possible_repeat", null]);
    expect((await store.readingsOf(await store.journalAfter(0, 10))).map((row) => row.mark)).toEqual([
      "possible_repeat",
      null,
    ]);
  });

  it("moves the receiving clock forward so that received rises over every kind of commit", async () => {
    const { store, reading, append } = await withParts(subject().store);
    const other = await withParts(await subject().another());
    const received: number[] = [];
    received.push((await append([reading(T, 1)], T + 100)).received);
    received.push((await store.note("up", null, T)).received);
    received.push((await other.append([other.reading(T + 1, 1)], T - 5_000)).received);
    received.push((await append([reading(T + 2, 1)], T + 101)).received);
    received.push((await append([reading(T + 3, 1)], T + 900)).received);
    expect(received).toEqual([T + 100, T + 101, T + 102, T + 103, T + 900]);
    expect((await store.journalAfter(0, 10)).map((entry) => entry.received)).toEqual(received);
  });

  it("orders concurrent writers of two processes without a gap or a tie", async () => {
    const one = await withParts(subject().store);
    const two = await withParts(await subject().another());
    const outcomes = await Promise.all(
      Array.from({ length: 20 }, (_, n) => {
        const side = n % 2 === 0 ? one : two;
        return side.append([side.reading(T + n, n)], T);
      }),
    );
    expect(new Set(outcomes.map((outcome) => outcome.received)).size).toBe(20);
    const entries = await one.store.journalAfter(0, 100);
    expect(entries.map((entry) => entry.seq)).toEqual(Array.from({ length: 20 }, (_, n) => n + 1));
    expect(entries.map((entry) => entry.received)).toEqual(Array.from({ length: 20 }, (_, n) => T + n));
  });

  it("refuses what a database would store wrongly, and stores nothing of that batch", async () => {
    const { store, temperature, reading, append } = await withParts(subject().store);
    for (const bad of [reading(T, Number.NaN), reading(T, Number.POSITIVE_INFINITY), reading(T + 9.5, 1)]) {
      await expect(append([reading(T + 1, 1), bad])).rejects.toMatchObject({
        name: "StoreError",
        code: "invalid",
      });
    }
    await expect(append([reading(T, 1)], T + 0.5)).rejects.toMatchObject({ code: "invalid" });
    expect(await store.firstReadingAt([temperature], 0)).toBeNull();
    expect(await store.journalAfter(0, 10)).toEqual([]);
  });

  it("takes batches beyond any limit on parameters", async () => {
    const { store, temperature, reading, append } = await withParts(subject().store);
    const many = Array.from({ length: 20_000 }, (_, n) => reading(T + n, n / 8));
    const outcome = await append(many);
    expect(outcome.fates.every((fate) => fate === "stored")).toBe(true);
    expect(await store.readingsOf(await store.journalAfter(0, 10))).toHaveLength(20_000);
    expect(await store.firstReadingAt([temperature], T + 7)).toBe(T + 7);
    expect((await append(many)).fates.every((fate) => fate === "duplicate")).toBe(true);
  });

  it("keeps instants of any year, sequence numbers and values to the last bit", async () => {
    const { store, temperature, reading, append } = await withParts(subject().store);
    const at = [
      0,
      Date.UTC(1969, 0),
      Date.UTC(2000, 0),
      Date.UTC(2024, 1, 29),
      Date.UTC(2099, 11, 31),
      8.64e15,
    ];
    const values = [0.1 + 0.2, 5e-324, Number.MAX_VALUE, -1 / 3, 1e21, 123456789.12345679];
    await append(at.map((instant, n) => reading(instant, values[n] ?? 0, { sequence: 2 ** 40 + n })));
    const rows = await store.readingsBetween([temperature], -1e15, 9e15, T);
    const expected = at.map((instant, n) => [instant, values[n]] as const).sort((a, b) => a[0] - b[0]);
    expect(rows.map((row) => [row.at, row.value])).toEqual(expected);
  });

  it("agrees with a model on any sequence of batches, and the journal names every reading once", async () => {
    const { store, temperature, ph, reading, append } = await withParts(subject().store);
    const batch = fc.array(
      fc.record({
        stream: fc.constantFrom(temperature, ph),
        at: fc.integer({ min: 0, max: 6 }),
        value: fc.constantFrom(0, 1, 2),
      }),
      { minLength: 1, maxLength: 12 },
    );
    let round = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(batch, { minLength: 1, maxLength: 5 }), async (batches) => {
        round += 1;
        const base = T + round * 1_000;
        const values = new Map<string, number>();
        const others = new Set<string>();
        for (const rows of batches) {
          const expected = rows.map(({ stream, at, value }) => {
            const key = `${stream}:${at}`;
            const known = values.get(key);
            if (known === undefined) {
              values.set(key, value);
              return "stored";
            }
            if (known === value || others.has(`${key}:${value}`)) return "duplicate";
            others.add(`${key}:${value}`);
            return "conflict";
          });
          const outcome = await append(
            rows.map((row) => reading(base + row.at, row.value, { stream: row.stream })),
          );
          expect(outcome.fates).toEqual(expected);
        }
        const streams = [temperature, ph];
        const stored = await store.readingsBetween(streams, base, base + 1_000, T * 2);
        expect(new Map(stored.map((row) => [`${row.stream}:${row.at - base}`, row.value]))).toEqual(values);
      }),
      { numRuns: 25, seed: 20251101 },
    );
    const byMoment = (rows: readonly { stream: number; at: number; value: number }[]) =>
      rows.map((row) => `${row.at}:${row.stream}:${row.value}`).sort();
    const named = await store.readingsOf(await store.journalAfter(0, 100_000));
    expect(byMoment(named)).toEqual(
      byMoment(await store.readingsBetween([temperature, ph], 0, T * 2, T * 2)),
    );
    expect((await store.status()).counts.readings).toBe(named.length);
  });

  it("reads back each commit's own readings where two commits interleave in time", async () => {
    const { store, reading, append } = await withParts(subject().store);
    await append([reading(T, 0), reading(T + 4, 4)], T + 10);
    await append([reading(T + 2, 2), reading(T + 6, 6)], T + 20);
    const entries = await store.journalAfter(0, 10);
    const values = async (of: typeof entries) => (await store.readingsOf(of)).map((row) => row.value);
    expect(await values(entries.slice(0, 1))).toEqual([0, 4]);
    expect(await values(entries.slice(1))).toEqual([2, 6]);
    expect(await values([...entries].reverse())).toEqual([0, 4, 2, 6]);
  });

  it("orders readings of several streams by instant, then stream", async () => {
    const { store, temperature, ph, reading, append } = await withParts(subject().store);
    await append([
      reading(T + 1, 1),
      reading(T, 2),
      reading(T + 1, 3, { stream: ph }),
      reading(T, 4, { stream: ph }),
    ]);
    const expected = [
      [T, temperature],
      [T, ph],
      [T + 1, temperature],
      [T + 1, ph],
    ];
    const between = await store.readingsBetween([ph, temperature], T, T + 2, T);
    expect(between.map((row) => [row.at, row.stream])).toEqual(expected);
    const named = await store.readingsOf(await store.journalAfter(0, 10));
    expect(named.map((row) => [row.at, row.stream])).toEqual(expected);
    expect(await store.firstReadingAt([ph, temperature], T + 1)).toBe(T + 1);
    expect(await store.firstReadingAt([ph, temperature], T + 2)).toBeNull();
    expect(await store.readingsBetween([], T, T + 2, T)).toEqual([]);
  });
}

import { expect, it } from "vitest";
import { SCHEMA_VERSION } from "#store/schema-version.ts";
import { rollup } from "./samples.ts";
import { EMPTY_PATCH, eachWith, evaluator, type OpenSubject, T, withParts } from "./subject.ts";

export function describeReading(open: OpenSubject): void {
  const subject = eachWith(open);

  it("pages raw readings with flags: stored ones, else passed or not yet evaluated", async () => {
    const { store, temperature, reading, append } = await withParts(subject().store);
    await append([reading(T, 1), reading(T + 1, 2), reading(T + 2, 3)], T + 5);
    const commit = await evaluator(store);
    await commit({
      cursor: { seq: 1, received: T + 5 },
      flags: [{ stream: temperature, at: T + 1, flag: 4, reasons: ["out_of_sensor_span"] }],
    });
    await append([reading(T + 3, 4)], T + 6);
    const query = { stream: temperature, from: T, to: T + 4, resolution: "raw" as const };
    expect(await store.readSeries({ ...query, limit: 3 })).toEqual({
      resolution: "raw",
      at: [T, T + 1, T + 2],
      min: [1, 2, 3],
      mean: [1, 2, 3],
      max: [1, 2, 3],
      n: [1, 1, 1],
      flag: [1, 4, 1],
      next: T + 3,
    });
    expect(await store.readSeries({ ...query, from: T + 3, limit: 3 })).toMatchObject({
      mean: [4],
      flag: [2],
      next: null,
    });
    expect(await store.readSeries({ ...query, limit: 4 })).toMatchObject({ next: null });
    expect(await store.readSeries({ ...query, from: T + 9, to: T + 10, limit: 4 })).toMatchObject({
      at: [],
      next: null,
    });
  });

  it("draws rollups with the mean of good readings, never more rows than asked for", async () => {
    const { store, temperature } = await withParts(subject().store);
    const commit = await evaluator(store);
    const none = { good: 0, min: null, max: null, sum: 0, first: null, last: null };
    await commit({
      rollups: [
        rollup(temperature, T, { n: 2, good: 2, sum: 5 }),
        rollup(temperature, T + 900_000, { n: 3, good: 2, sum: 5 }),
        rollup(temperature, T + 1_800_000, { ...none, n: 4 }),
        rollup(temperature, T + 2_700_000, { ...none, n: 0 }),
        rollup(temperature, T, { width: 10_800_000 }),
      ],
    });
    const query = { stream: temperature, from: T, to: T + 9_000_000, resolution: "15min" as const };
    expect(await store.readSeries({ ...query, limit: 10 })).toEqual({
      resolution: "15min",
      at: [T, T + 900_000, T + 1_800_000, T + 2_700_000],
      min: [1, 1, null, null],
      mean: [2.5, 2.5, null, null],
      max: [3, 3, null, null],
      n: [2, 3, 4, 0],
      flag: [1, 3, 4, 9],
      next: null,
    });
    expect(await store.readSeries({ ...query, limit: 2 })).toMatchObject({
      at: [T, T + 900_000],
      next: T + 1_800_000,
    });
    expect(await store.readSeries({ ...query, resolution: "3h", limit: 9 })).toMatchObject({
      at: [T],
      mean: [2],
    });
    expect(await store.readSeries({ ...query, resolution: "day", limit: 9 })).toMatchObject({ at: [] });
  });

  it("draws derived values with their interval", async () => {
    const { store, derived } = await withParts(subject().store);
    const commit = await evaluator(store);
    await commit({
      derived: [
        { stream: derived, at: T, value: 0.5, low: 0.25, high: 0.75, formula: "f" },
        { stream: derived, at: T + 1, value: 0.5, low: null, high: null, formula: "f" },
      ],
    });
    const query = { stream: derived, from: T, to: T + 9, resolution: "raw" as const, limit: 9 };
    expect(await store.readSeries(query)).toMatchObject({
      min: [0.25, 0.5],
      mean: [0.5, 0.5],
      max: [0.75, 0.5],
      flag: [1, 1],
    });
    expect(await store.readDerived(derived, T, T + 1, 9)).toHaveLength(1);
    expect(await store.readDerived(derived, T, T + 9, 1)).toHaveLength(1);
  });

  it("reads rollups of several streams, by stream then start", async () => {
    const { store, temperature, ph } = await withParts(subject().store);
    const commit = await evaluator(store);
    await commit({
      rollups: [
        rollup(ph, T),
        rollup(temperature, T + 1),
        rollup(temperature, T),
        rollup(temperature, T + 2),
      ],
    });
    const rows = await store.readRollups({ streams: [ph, temperature], from: T, to: T + 2, width: 900_000 });
    expect(rows).toEqual([rollup(temperature, T), rollup(temperature, T + 1), rollup(ph, T)]);
  });

  it("says how it stands without counting rows", async () => {
    const { store, reading, append } = await withParts(subject().store);
    await append([reading(T, 1)], T + 8);
    const status = await store.status();
    expect(status).toEqual({
      dialect: store.dialect,
      schema: SCHEMA_VERSION,
      journal: { seq: 1, received: T + 8 },
      cursor: null,
      rejudging: [],
      counts: { readings: 1, duplicates: 0, conflicts: 0, rejected: 0, unclaimed: 0 },
      where: expect.any(String),
    });
    expect(status.where).not.toContain("homewater:homewater@");
  });

  it("changes its mark with every commit of any process, and only then", async () => {
    const { store, reading, append } = await withParts(subject().store);
    const other = await subject().another();
    const lease = await store.acquireLease("evaluator", "a", T, 60_000);
    const commits: (() => Promise<unknown>)[] = [
      () => append([reading(T, 1)]),
      () => store.note("up", null, T),
      () => other.note("up", null, T),
      () =>
        other.append({
          now: T,
          readings: [],
          rejected: [],
          unclaimed: [{ topic: "x", readings: [], source: 1 }],
        }),
      () => store.writeSetUp({}, [{ system: "system-kelp", from: T }], T),
      () =>
        other.commitEvaluation(
          { ...EMPTY_PATCH, cursor: { seq: 1, received: T } },
          { seq: 0, lease: lease ?? { epoch: -1 }, leaseName: "evaluator" },
        ),
    ];
    let mark = await store.changeMark();
    for (const commit of commits) {
      expect(await store.changeMark()).toBe(mark);
      await commit();
      const after = await store.changeMark();
      expect(after).not.toBe(mark);
      mark = after;
    }
  });

  it("sees a commit at once, also while a longer read is open", async () => {
    const { store, temperature, reading, append } = await withParts(subject().store);
    const long = store.readSetUp();
    await append([reading(T, 1)]);
    expect(await store.firstReadingAt([temperature], 0)).toBe(T);
    expect(await store.journalAfter(0, 9)).toHaveLength(1);
    await long;
  });

  it("counts how readings came by stream, source and span, and reads their numbers newest first", async () => {
    const { store, temperature, ph, reading, append, source } = await withParts(subject().store);
    await append([
      { ...reading(T, 1), sequence: 7 },
      { ...reading(T + 1_000, 1), sequence: 9 },
      reading(T + 60_000, 1),
      { ...reading(T + 2_000, 8), stream: ph, sequence: 8 },
    ]);
    const streams = [temperature, ph];
    const rows = await store.readArrivals({ streams, from: T, to: T + 60_001, width: 60_000 });
    const received = (await store.journalAfter(0, 9))[0]?.received ?? 0;
    expect(rows).toEqual([
      {
        stream: temperature,
        source,
        start: T - (T % 60_000),
        n: 2,
        numbered: 2,
        shortest: received - T - 1_000,
        longest: received - T,
        first: T,
        last: T + 1_000,
      },
      expect.objectContaining({ stream: temperature, start: T - (T % 60_000) + 60_000, n: 1, numbered: 0 }),
      expect.objectContaining({ stream: ph, n: 1, numbered: 1 }),
    ]);
    const numbered = { source, streams, from: T, to: T + 60_001 };
    expect(await store.readNumbered({ ...numbered, limit: 9 })).toEqual([
      { stream: ph, at: T + 2_000, sequence: 8 },
      { stream: temperature, at: T + 1_000, sequence: 9 },
      { stream: temperature, at: T, sequence: 7 },
    ]);
    expect(await store.readNumbered({ ...numbered, limit: 1 })).toMatchObject([{ sequence: 8 }]);
    expect(await store.readNumbered({ ...numbered, source: source + 1, limit: 9 })).toEqual([]);
  });

  it("says that it is unavailable once it is closed", async () => {
    const { store, reading, append } = await withParts(await subject().another());
    await store.close();
    await expect(append([reading(T, 1)])).rejects.toMatchObject({ name: "StoreError", code: "unavailable" });
    await expect(store.readCursor()).rejects.toMatchObject({ name: "StoreError", code: "unavailable" });
  });
}

import { expect, it } from "vitest";
import { DAY } from "#core/time/instant.ts";
import { alarm, current, finding, rollup, transition } from "./samples.ts";
import { EMPTY_PATCH, eachWith, evaluator, type OpenSubject, T, withParts } from "./subject.ts";

export function describeEvaluation(open: OpenSubject): void {
  const subject = eachWith(open);

  it("moves the cursor with what it writes, and refuses a patch begun at another position", async () => {
    const { store, temperature } = await withParts(subject().store);
    expect(await store.readCursor()).toEqual({ seq: 0, received: 0 });
    const lease = await store.acquireLease("evaluator", "a", T, 1_000);
    const at = (seq: number) => ({ seq, lease: lease ?? { epoch: -1 }, leaseName: "evaluator" });
    const cursor = { seq: 4, received: T + 4 };
    await store.commitEvaluation({ ...EMPTY_PATCH, cursor, current: [current(temperature)] }, at(0));
    expect(await store.readCursor()).toEqual(cursor);
    const late = {
      ...EMPTY_PATCH,
      cursor: { seq: 9, received: T + 9 },
      current: [current(temperature, { value: 99 })],
    };
    await expect(store.commitEvaluation(late, at(0))).rejects.toMatchObject({
      name: "StoreError",
      code: "superseded",
    });
    expect(await store.readCursor()).toEqual(cursor);
    expect(await store.readCurrent()).toEqual([current(temperature)]);
    expect((await store.status()).cursor).toEqual(cursor);
  });

  it("refuses a patch of an evaluator whose lease another has taken", async () => {
    const { store, temperature } = await withParts(subject().store);
    const other = await subject().another();
    const mine = await store.acquireLease("evaluator", "a", T, 1_000);
    expect(mine).toEqual({ epoch: 1 });
    expect(await other.acquireLease("evaluator", "b", T + 999, 1_000)).toBeNull();
    expect(await store.acquireLease("evaluator", "a", T + 500, 1_000)).toEqual({ epoch: 1 });
    expect(await other.acquireLease("evaluator", "b", T + 1_000, 1_000)).toBeNull();
    expect(await other.acquireLease("evaluator", "b", T + 1_500, 1_000)).toEqual({ epoch: 2 });
    const patch = { ...EMPTY_PATCH, cursor: { seq: 1, received: T }, current: [current(temperature)] };
    const expected = { seq: 0, lease: mine ?? { epoch: -1 }, leaseName: "evaluator" };
    await expect(store.commitEvaluation(patch, expected)).rejects.toMatchObject({ code: "superseded" });
    expect(await store.readCurrent()).toEqual([]);
    await other.commitEvaluation(patch, { ...expected, lease: { epoch: 2 } });
    expect(await store.readCurrent()).toHaveLength(1);
  });

  it("gives a lease back, but not somebody else's", async () => {
    const { store } = subject();
    const first = await store.acquireLease("evaluator", "a", T, 1_000);
    await store.releaseLease("evaluator", first ?? { epoch: -1 });
    expect(await store.acquireLease("evaluator", "b", T + 1, 1_000)).toEqual({ epoch: 2 });
    await store.releaseLease("evaluator", first ?? { epoch: -1 });
    expect(await store.acquireLease("evaluator", "c", T + 2, 1_000)).toBeNull();
    expect(await store.acquireLease("folding", "c", T + 2, 1_000)).toEqual({ epoch: 1 });
  });

  it("hands a free lease to one of many who ask at once", async () => {
    const stores = [subject().store, await subject().another()];
    const asked = await Promise.all(
      Array.from({ length: 8 }, (_, n) => stores[n % 2]?.acquireLease("evaluator", `holder-${n}`, T, 1_000)),
    );
    expect(asked.filter((lease) => lease !== null)).toEqual([{ epoch: 1 }]);
  });

  it("replaces flags, derived rows and rollups of a range whole and leaves what lies outside", async () => {
    const { store, temperature, derived, ph } = await withParts(subject().store);
    const commit = await evaluator(store);
    const row = (stream: number, at: number, value: number) => ({
      stream,
      at,
      value,
      low: null,
      high: value,
      formula: "f",
    });
    const flag = (stream: number, at: number) => ({
      stream,
      at,
      flag: 3 as const,
      reasons: ["time_suspect" as const, "conflict" as const],
    });
    await commit({
      flags: [flag(temperature, T), flag(temperature, T + 1), flag(temperature, T + 2), flag(ph, T + 1)],
      derived: [row(derived, T, 1), row(derived, T + 1, 2), row(derived, T + 2, 3)],
      rollups: [
        rollup(temperature, T),
        rollup(temperature, T + 1),
        rollup(temperature, T + 2, { width: 86_400_000 }),
      ],
    });
    await commit({
      replace: [{ system: "system-kelp", streams: [temperature, derived], from: T + 1, to: T + 3 }],
      derived: [row(derived, T + 1, 20)],
      rollups: [
        rollup(temperature, T + 1, { n: 9, good: 0, min: null, max: null, sum: 0, first: null, last: null }),
      ],
    });
    expect(await store.readFlags(temperature, 0, T * 2, 9)).toEqual([flag(temperature, T)]);
    expect(await store.readFlags(ph, 0, T * 2, 9)).toEqual([flag(ph, T + 1)]);
    expect(await store.readDerived(derived, 0, T * 2, 9)).toEqual([
      row(derived, T, 1),
      row(derived, T + 1, 20),
    ]);
    const rollups = await store.readRollups({ streams: [temperature], from: 0, to: T * 2, width: 900_000 });
    expect(rollups.map((each) => [each.start, each.n, each.min])).toEqual([
      [T, 3, 1],
      [T + 1, 9, null],
    ]);
    expect(
      await store.readRollups({ streams: [temperature], from: 0, to: T * 2, width: 86_400_000 }),
    ).toEqual([]);
  });

  it("supersedes findings that a replaced range no longer has, silence excepted, and revives a named one", async () => {
    const { store, temperature, ph } = await withParts(subject().store);
    const commit = await evaluator(store);
    const gone = finding(temperature, { began: T - 50, raised: T + 10 });
    const kept = finding(temperature, { began: T + 5, raised: T + 20 });
    const silent = finding(temperature, { id: "silent-1", kind: "silent", rule: "silent", raised: T + 15 });
    const after = finding(temperature, { began: T + 12, raised: T + 30 });
    const before = finding(temperature, { began: T + 7, raised: T + 9 });
    const other = finding(ph, { raised: T + 10 });
    await commit({ findings: [gone, kept, silent, before, after, other] });
    const ended = { ...kept, ended: T + 90, severity: "action" as const, evidence: { worst: 15 } };
    const range = { system: "system-kelp", streams: [temperature], from: T + 10, to: T + 30 };
    await commit({ replace: [range], findings: [ended] });
    expect(await store.readFindings({ limit: 9 })).toEqual(
      [ended, silent, other, before, after].sort(newestFirst),
    );
    await commit({ replace: [range], findings: [gone, ended] });
    expect(await store.readFindings({ limit: 9 })).toEqual(
      [ended, silent, gone, other, before, after].sort(newestFirst),
    );
  });

  it("finds findings that touch a range, open ones, one system's, the newest first", async () => {
    const { store, temperature } = await withParts(subject().store);
    const commit = await evaluator(store);
    const early = finding(temperature, { began: T, ended: T + 10 });
    const long = finding(temperature, { began: T + 5, ended: null });
    const late = finding(temperature, { began: T + 50, ended: T + 60, system: "system-rays" });
    await commit({ findings: [early, long, late] });
    const ids = async (query: Parameters<typeof store.readFindings>[0]) =>
      (await store.readFindings(query)).map((row) => row.began - T);
    expect(await ids({ limit: 9 })).toEqual([50, 5, 0]);
    expect(await ids({ limit: 2 })).toEqual([50, 5]);
    expect(await ids({ open: true, limit: 9 })).toEqual([5]);
    expect(await ids({ from: T + 11, to: T + 50, limit: 9 })).toEqual([5]);
    expect(await ids({ from: T + 10, to: T + 51, limit: 9 })).toEqual([50, 5, 0]);
    expect(await ids({ system: "system-rays", limit: 9 })).toEqual([50]);
  });

  it("leaves out what nothing can be said of any more: a quantity or a kind that this version does not know", async () => {
    const { store, temperature } = await withParts(subject().store);
    const commit = await evaluator(store);
    const known = finding(temperature);
    const retired = {
      ...finding(temperature, { began: T + 1 }),
      quantity: "phlogiston",
    } as unknown as typeof known;
    const newer = { ...finding(temperature, { began: T + 2 }), kind: "boiling" } as unknown as typeof known;
    const rings = alarm(temperature);
    const mute = {
      ...alarm(temperature, { id: "alarm-2" }),
      quantity: "phlogiston",
    } as unknown as typeof rings;
    await commit({ findings: [known, retired, newer], alarms: [rings, mute] });
    expect(await store.readFindings({ limit: 9 })).toEqual([known]);
    expect(await store.readAlarms({ limit: 9 })).toEqual([rings]);
    expect(await store.readAlarm("alarm-1")).toEqual(rings);
    expect(await store.readAlarm("alarm-2")).toBeNull();
  });

  it("keeps alarms by id and their transitions in order", async () => {
    const { store, temperature } = await withParts(subject().store);
    const commit = await evaluator(store);
    const raised = transition();
    await commit({ alarms: [alarm(temperature)], transitions: [raised] });
    const acknowledged = alarm(temperature, { state: "ACK", acknowledged: T + 9, acknowledgedBy: "Ada" });
    const seen = transition({
      from: "UNACK",
      to: "ACK",
      cause: "acknowledged",
      value: null,
      limit: null,
      at: T + 9,
    });
    await commit({ alarms: [acknowledged], transitions: [seen] });
    const quiet = alarm(temperature, { id: "alarm-2", state: "NORMAL", raised: T - 500, cleared: T - 400 });
    await commit({ alarms: [quiet], transitions: [transition({ alarm: "alarm-2" })] });
    expect(await store.readAlarms({ limit: 9 })).toEqual([acknowledged, quiet]);
    expect(await store.readAlarms({ active: true, limit: 9 })).toEqual([acknowledged]);
    expect(await store.readAlarms({ from: T - 399, limit: 9 })).toEqual([acknowledged]);
    expect(await store.readAlarms({ to: T, limit: 9 })).toEqual([quiet]);
    expect(await store.readAlarms({ system: "system-rays", limit: 9 })).toEqual([]);
    expect(await store.readTransitions("alarm-1")).toEqual([raised, seen]);
  });

  it("keeps one current verdict a stream", async () => {
    const { store, temperature, ph } = await withParts(subject().store);
    const commit = await evaluator(store);
    const doubtful = current(ph, {
      flag: 4,
      reasons: ["out_of_sensor_span", "conflict"],
      band: null,
      deviation: null,
    });
    await commit({ current: [current(temperature), doubtful] });
    const newer = current(temperature, { at: T + 5, value: 13, silentAt: T + 900, rate: null });
    await commit({ current: [newer] });
    expect(await store.readCurrent()).toEqual([newer, doubtful]);
    expect(await store.readCurrent([ph])).toEqual([doubtful]);
    expect(await store.readCurrent([])).toEqual([]);
  });

  it("finds the checkpoint before an instant, and drops those no longer right", async () => {
    const { store } = subject();
    const commit = await evaluator(store);
    const checkpoint = (system: string, at: number, state = `{"at":${at}}`) => ({ system, at, state });
    await commit({ checkpoints: [checkpoint("a", T), checkpoint("a", T + DAY), checkpoint("b", T + DAY)] });
    expect(await store.checkpointAtOrBefore("a", T + DAY - 1)).toEqual(checkpoint("a", T));
    expect(await store.checkpointAtOrBefore("a", T + DAY)).toEqual(checkpoint("a", T + DAY));
    expect(await store.checkpointAtOrBefore("a", T - 1)).toBeNull();
    await commit({
      dropCheckpoints: [{ system: "a", from: T + 1, to: Number.MAX_SAFE_INTEGER }],
      checkpoints: [checkpoint("a", T, "again")],
    });
    expect(await store.checkpointAtOrBefore("a", T * 2)).toEqual(checkpoint("a", T, "again"));
    expect(await store.checkpointAtOrBefore("b", T * 2)).toEqual(checkpoint("b", T + DAY));
  });

  it("keeps a day's checkpoint for 35 days and a month's first for ever", async () => {
    const { store } = subject();
    const commit = await evaluator(store);
    const start = Date.UTC(2025, 0, 1);
    const days = Array.from({ length: 120 }, (_, day) => ({
      system: "a",
      at: start + day * DAY,
      state: String(day),
    }));
    await commit({ checkpoints: days });
    const kept = new Set<number>();
    for (let day = 0; day < 120; day += 1) {
      const found = await store.checkpointAtOrBefore("a", start + day * DAY);
      if (found !== null) kept.add(Number(found.state));
    }
    // 1 January, 1 February, 1 March, then every day from 35 before the newest (day 119).
    const expected = [0, 31, 59, ...Array.from({ length: 36 }, (_, n) => 84 + n)];
    expect([...kept]).toEqual(expected);
  });

  it("remembers the earliest instant to judge again until that is done", async () => {
    const { store } = subject();
    const commit = await evaluator(store);
    await commit({
      rejudge: [
        { system: "a", from: T + 5 },
        { system: "b", from: T },
      ],
    });
    await commit({ rejudge: [{ system: "a", from: T + 9 }] });
    expect(await store.readRejudgeRanges()).toEqual([
      { system: "a", from: T + 5 },
      { system: "b", from: T },
    ]);
    await commit({ rejudge: [{ system: "a", from: T + 1 }], rejudged: ["b"] });
    expect(await store.readRejudgeRanges()).toEqual([{ system: "a", from: T + 1 }]);
    await commit({ rejudge: [{ system: "a", from: T + 7 }], rejudged: ["a"] });
    expect((await store.status()).rejudging).toEqual([{ system: "a", from: T + 7 }]);
  });

  it("writes patches beyond any limit on parameters, the last of equal keys counting", async () => {
    const { store, temperature } = await withParts(subject().store);
    const commit = await evaluator(store);
    const many = Array.from({ length: 20_000 }, (_, n) => n);
    await commit({
      rollups: [...many.map((n) => rollup(temperature, T + n)), rollup(temperature, T, { n: 77 })],
      findings: many.slice(0, 6_000).map((n) => finding(temperature, { began: T + n })),
      transitions: many.slice(0, 6_000).map((n) => transition({ at: T + n })),
      current: [current(temperature), current(temperature, { value: 1 })],
    });
    const rows = await store.readRollups({ streams: [temperature], from: 0, to: T * 2, width: 900_000 });
    expect([rows.length, rows[0]?.n, rows[1]?.n]).toEqual([20_000, 77, 3]);
    expect(await store.readFindings({ limit: 10_000 })).toHaveLength(6_000);
    expect((await store.readTransitions("alarm-1")).map((row) => row.at - T)).toEqual(many.slice(0, 6_000));
    expect((await store.readCurrent()).map((row) => row.value)).toEqual([1]);
  });

  it("leaves nothing of a patch that fails half way", async () => {
    const { store, temperature } = await withParts(subject().store);
    const commit = await evaluator(store);
    const failing = {
      current: [current(temperature)],
      derived: [{ stream: 1, at: T, value: Number.NaN, low: null, high: null, formula: "f" }],
    };
    await expect(commit(failing)).rejects.toMatchObject({ name: "StoreError", code: "invalid" });
    expect(await store.readCurrent()).toEqual([]);
    expect(await store.readCursor()).toEqual({ seq: 0, received: 0 });
    await commit({ current: [current(temperature)] });
    expect(await store.readCurrent()).toHaveLength(1);
  });
}

const newestFirst = (a: { began: number; id: string }, b: { began: number; id: string }): number =>
  b.began - a.began || (a.id < b.id ? -1 : 1);

import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { probesView, probeView } from "#contract/probes.ts";
import { DAY, MINUTE } from "#core/time/instant.ts";
import { recordBench } from "#services/bench/record-bench.ts";
import { readLog } from "#services/logbook/read-log.ts";
import { readProbe } from "#services/probes/read-probe.ts";
import { readProbes } from "#services/probes/read-probes.ts";
import { recordCalibration, voidCalibration } from "#services/probes/record-calibration.ts";
import type { Stream } from "#store/port.ts";
import { current, finding, KEEPER, NOW, openWorld, READER, rollup, system, type World } from "../world.ts";

let world: World;
let ph: Stream;
beforeEach(async () => {
  world = await openWorld([system("reef")]);
  ph = await world.stream("reef", "display", "ph");
});
afterEach(() => world.dispose());

const text = (at: number) => new Date(at).toISOString();
const buffers = [
  { value: 7, read: 7.05 },
  { value: 10, read: 10.2 },
];
const body = (change: object = {}) => ({
  clientId: "c1",
  kind: "calibration",
  from: text(NOW - 30 * MINUTE),
  at: text(NOW - 10 * MINUTE),
  before: 8.31,
  after: 8.27,
  standards: buffers,
  slope: 96.5,
  ...change,
});
const record = (change: object = {}) => recordCalibration(world.write, KEEPER, ph.id, body(change));

test("a calibration is stored once, audited, marked in the logbook and told with what it found", async () => {
  const first = await record();
  expect(first.repeated).toBe(false);
  expect(first.calibration).toMatchObject({
    kind: "calibration",
    by: "keeper",
    correction: null,
    voided: null,
  });
  expect(first.calibration.error?.fouling).toBeCloseTo(-0.04, 9);
  expect(await record()).toEqual({ ...first, repeated: true });
  const log = await readLog(world.read, {});
  expect(log.entries).toMatchObject([
    {
      kind: "calibration",
      quantity: "ph",
      point: "display",
      at: NOW - 30 * MINUTE,
      until: NOW - 10 * MINUTE,
      text: "Calibration of the pH probe, read 8.31 before and 8.27 after cleaning, read 7.05 in 7.00, read 10.20 in 10.00, slope 96.5 %.",
    },
  ]);
  expect((await world.store.verifyAudit()).rows).toBe(1);
  await expect(recordCalibration(world.write, READER, ph.id, body({ clientId: "x" }))).rejects.toMatchObject({
    code: "forbidden",
  });
});

test("a probe that is right in the first standard and far off in the second is rated by the second", async () => {
  const standards = [
    { value: 7, read: 7 },
    { value: 10, read: 9.1 },
  ];
  const change = { before: undefined, after: undefined, standards, slope: undefined, offset: -64 };
  const { calibration } = await record(change);
  expect(calibration).toMatchObject({
    grade: "poor",
    worst: { standard: 10, error: expect.closeTo(0.9, 9) },
    line: { slope: expect.closeTo(70, 9), offset: 0 },
    error: { total: expect.closeTo(0.9, 9) },
  });
  await world.evaluated({ current: [current(ph, 8.1)] });
  const { probes } = await readProbes(world.read);
  expect(probes).toMatchObject([{ letter: "S", why: "electrode offset -64 mV" }]);
});

test("a correction reaches back to the visit before, and is out of force with its calibration", async () => {
  await expect(record({ correct: true })).rejects.toMatchObject({ issues: [{ field: "correct" }] });
  await record({ clientId: "c0", from: text(NOW - 7 * DAY), at: text(NOW - 7 * DAY) });
  const { calibration } = await record({ correct: true });
  expect(calibration.correction).toMatchObject({ from: NOW - 7 * DAY, to: NOW - 30 * MINUTE, by: "keeper" });
  expect(await world.store.readCorrections([ph.id])).toHaveLength(1);
  const gone = await voidCalibration(world.write, KEEPER, calibration.id, {
    clientId: "v1",
    reason: "another probe",
  });
  expect(gone.calibration).toMatchObject({
    correction: null,
    voided: { by: "keeper", reason: "another probe" },
  });
  expect(await world.store.readCorrections([ph.id])).toEqual([]);
  const again = { clientId: "v2", reason: "another probe" };
  await expect(voidCalibration(world.write, KEEPER, calibration.id, again)).rejects.toMatchObject({
    code: "conflict",
  });
});

describe("a calibration", () => {
  test.each<[string, object, string]>([
    ["in the future", { at: text(NOW + DAY) }, "at"],
    ["that ends before it begins", { from: text(NOW - MINUTE) }, "from"],
    ["that takes more than a day", { from: text(NOW - 2 * DAY) }, "from"],
    ["with a reading no probe can give", { before: 19 }, "before"],
    ["with one standard twice", { standards: [buffers[0], buffers[0]] }, "standards"],
    ["that calls cleaning what used a buffer", { kind: "cleaning" }, "kind"],
    ["with a key there is not", { colour: "red" }, ""],
    ["of a kind there is not", { kind: "magic" }, "kind"],
    [
      "with a correction from a probe that tells no standard from the other",
      { correct: true, standards: [buffers[0], { value: 10, read: 7.05 }] },
      "correct",
    ],
    ["with a correction of nothing", { correct: true, before: undefined, standards: [] }, "correct"],
  ])("%s is refused by name", async (_claim, change, field) => {
    await expect(record(change)).rejects.toMatchObject({
      issues: expect.arrayContaining([expect.objectContaining({ field })]),
    });
    expect((await world.store.verifyAudit()).rows).toBe(0);
  });
  test("of a bench stream, or of none, is refused", async () => {
    const bench = await world.stream("reef", "display", "ph", "bench");
    const call = (id: number) => recordCalibration(world.write, KEEPER, id, body());
    await expect(call(bench.id)).rejects.toMatchObject({ issues: [{ field: "stream" }] });
    await expect(call(9_999)).rejects.toMatchObject({ code: "not_found" });
  });
});

describe("probes as they are read", () => {
  test("each has its letter, gravest first, and says when it is due", async () => {
    const temperature = await world.stream("reef", "display", "temperature");
    const oxygen = await world.stream("reef", "display", "dissolved_oxygen");
    const orp = await world.stream("reef", "display", "orp");
    await world.evaluated({
      current: [
        current(ph, 8.1),
        current(temperature, 25),
        current(orp, 320),
        current(oxygen, 8, { silentAt: NOW - MINUTE }),
      ],
      findings: [finding(orp, { kind: "drifting", rule: "bench", evidence: { apart: 31 } })],
    });
    await record({ from: text(NOW - 8 * DAY), at: text(NOW - 8 * DAY) });
    const view = probesView.parse(await readProbes(world.read));
    expect(view.probes.map((row) => [row.quantity, row.letter])).toEqual([
      ["dissolved_oxygen", "F"],
      ["orp", "S"],
      ["ph", "M"],
      ["temperature", "good"],
    ]);
    expect(view.counts).toEqual({ F: 1, C: 0, S: 1, M: 1, good: 1 });
    expect(view.probes[2]).toMatchObject({ due: NOW - DAY, last: { kind: "calibration", by: "keeper" } });
  });

  test("a probe is held against the bench: pairs, agreement, chart, and what such tests can see", async () => {
    const days = [9, 8, 7, 6, 5, 4, 3, 2, 1];
    const source = await world.store.ensureSource("gateway", "gateway");
    for (const [i, day] of days.entries()) {
      const at = NOW - day * DAY;
      await world.store.append({
        now: at + MINUTE,
        readings: [-5, 0, 5].map((minutes) => ({
          stream: ph.id,
          at: at + minutes * MINUTE,
          value: 8.1 - 0.045 * Math.max(0, i - 2) + minutes / 1_000,
          source: source.id,
          sequence: null,
          mark: null,
        })),
        rejected: [],
        unclaimed: [],
      });
      await recordBench({ ...world.write, clock: () => at + MINUTE }, KEEPER, {
        clientId: `t${day}`,
        system: "reef",
        point: "display",
        sampledAt: text(at),
        results: [{ quantity: "ph", value: "8.10", unit: "[pH]" }],
      });
    }
    await world.evaluated({ current: [current(ph, 7.83)] });
    const view = probeView.parse(await readProbe(world.read, ph.id));
    expect(view.pairs).toHaveLength(9);
    expect(view.pairs.at(-1)?.difference).toBeCloseTo(-0.27, 9);
    expect(view.agreement?.n).toBe(9);
    expect(view.agreement?.bias).toBeCloseTo(-0.105, 9);
    expect(view.regression).toBeNull();
    expect(view.drifting).toBe(true);
    expect(view.perMonth).toBeCloseTo(-0.045 * 30, 0);
    expect(view.says).toMatch(/^Daily tests here would show a drift of about 0\.\d+ pH after \d+ tests\.$/);
    await record();
    const after = await readProbe(world.read, ph.id);
    expect(after).toMatchObject({ drifting: false, agreement: null, letter: "good" });
    expect(after.pairs).toHaveLength(9);
  });

  test("a twin that moves away is told, and which of the two it was is not claimed", async () => {
    const { setUp } = await world.read.setUp.read();
    const points = setUp.points.map((point) =>
      point.code === "sump" ? { ...point, twinOf: "p-reef-display" } : point,
    );
    await world.store.writeSetUp({ points }, [], NOW);
    world.now = NOW + 2_000;
    const other = await world.stream("reef", "sump", "ph");
    const midnight = NOW - (NOW % DAY);
    const rollups = Array.from({ length: 14 }, (_, day) => [
      rollup(ph, 900_000, midnight - (14 - day) * DAY, [8.1]),
      rollup(other, 900_000, midnight - (14 - day) * DAY, [day < 8 ? 8.12 : 8.32]),
    ]).flat();
    await world.evaluated({ rollups, current: [current(ph, 8.1), current(other, 8.3)] });
    const view = await readProbe(world.read, ph.id);
    expect(view.twin).toBe("sump");
    expect(view.twinDays).toHaveLength(14);
    expect(view.twinMoved).toBe(midnight - (14 - 9) * DAY);
    expect(view.twinSays).toMatch(/one of them has drifted/);
    expect(view.letter).toBe("S");
    expect((await readProbes(world.read)).counts.S).toBe(2);
  });
});

import { afterEach, beforeEach, expect, test } from "vitest";
import { benchWaterView } from "#contract/bench-water.ts";
import { ammoniaOfTest } from "#core/bench/ammonia.ts";
import { nearSample } from "#core/bench/water-near.ts";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { readBenchForm } from "#services/bench/read-bench-form.ts";
import { readBenchWater } from "#services/bench/read-bench-water.ts";
import { recordBench } from "#services/bench/record-bench.ts";
import { changeStream } from "#services/set-up/change-stream.ts";
import { actorWith, band, KEEPER, NOW, openWorld, system, type World } from "../world.ts";

let world: World;
beforeEach(async () => {
  world = await openWorld(
    [system("reef"), system("creek", { water: "fresh" })],
    [
      band("reef"),
      band("reef", { id: "b2", quantity: "flow" }),
      band("reef", { id: "b3", quantity: "nitrate" }),
    ],
  );
});
afterEach(() => world.dispose());

const test1 = (
  at: number,
  results: { quantity: string; value: string; unit: string }[],
  clientId = String(at),
) =>
  recordBench(world.write, KEEPER, {
    clientId,
    system: "reef",
    point: "display",
    sampledAt: new Date(at).toISOString(),
    results,
  });
async function probe(quantity: string, at: number, value: number): Promise<void> {
  const stream = await world.stream("reef", "display", quantity);
  const source = await world.store.ensureSource("gateway", "gateway");
  const reading = { stream: stream.id, at, value, source: source.id, sequence: null, mark: null };
  await world.store.append({ now: at, readings: [reading], rejected: [], unclaimed: [] });
}

test("fields come in walking order: what was tested here and what has a band, gauges only where somebody typed them", async () => {
  await test1(NOW - 2 * HOUR, [
    { quantity: "nitrite", value: "0.02", unit: "mg{N}/L" },
    { quantity: "ph", value: "8.10", unit: "[pH]" },
  ]);
  const view = await readBenchForm(world.read, "reef");
  expect(view.here.map((row) => [row.point, row.field.quantity])).toEqual([
    ["display", "temperature"],
    ["display", "ph"],
    ["display", "nitrite"],
    ["display", "nitrate"],
  ]);
  expect(view.here[1]?.last).toMatchObject([
    { typed: "8.10", analyst: KEEPER.name, sampledAt: NOW - 2 * HOUR },
  ]);
  expect(view.here[0]?.band).toMatchObject({ low: 24, high: 27 });
});

test("the newest three results stand beside a field, newest first", async () => {
  for (const [i, value] of ["1", "2", "3", "4"].entries())
    await test1(NOW - (10 - i) * HOUR, [{ quantity: "nitrate", value, unit: "mg{N}/L" }]);
  const row = (await readBenchForm(world.read, "reef")).here.find((one) => one.field.quantity === "nitrate");
  expect(row?.last.map((one) => one.typed)).toEqual(["4", "3", "2"]);
});

test("the water of the form gives the ammonia that the server stores", async () => {
  const sampledAt = NOW - 10 * MINUTE;
  for (const [quantity, value] of [
    ["ph", 8.05],
    ["temperature", 24.6],
    ["salinity", 34.2],
  ] as const)
    await probe(quantity, sampledAt - 4 * MINUTE, value);
  const water = benchWaterView.parse(
    await readBenchWater(world.read, "reef", { at: sampledAt, point: "display" }),
  );
  const given = Object.fromEntries(
    (["ph", "temperature", "salinity"] as const).map((need) => [need, nearSample(water[need], sampledAt)]),
  );
  const here = ammoniaOfTest({ value: 0.12, qualifier: "=", at: sampledAt }, given, water.water);
  const { unionisedAmmonia } = await test1(sampledAt, [
    { quantity: "total_ammonia", value: "0.12", unit: "mg{N}/L" },
  ]);
  expect(here.value).not.toBeNull();
  expect(here).toEqual(unionisedAmmonia);
});

test("a probe calibrated in tris speaks on the total scale, with its own offset, from the calibration on", async () => {
  const sampledAt = NOW - 10 * MINUTE;
  for (const [quantity, value] of [
    ["ph", 8.05],
    ["temperature", 24.6],
    ["salinity", 34.2],
  ] as const)
    await probe(quantity, sampledAt - 4 * MINUTE, value);
  const tan = (clientId: string) =>
    test1(sampledAt, [{ quantity: "total_ammonia", value: "0.12", unit: "mg{N}/L" }], clientId);
  const onNbs = (await tan("before")).unionisedAmmonia;
  expect(onNbs?.phScale).toBe("nbs");
  const { id } = await world.stream("reef", "display", "ph");
  const basis = { phScale: "total", phOffset: -0.01, reason: "calibrated in tris" };
  const set = (at: number) =>
    changeStream(world.write, actorWith("curator", "curator"), id, {
      ...basis,
      basisFrom: new Date(at).toISOString(),
    });
  await set(NOW - MINUTE);
  expect((await tan("calibrated-since")).unionisedAmmonia).toEqual(onNbs);
  await set(sampledAt - HOUR);
  expect((await readBenchWater(world.read, "reef", { at: sampledAt })).ph).toMatchObject({
    value: expect.closeTo(8.04, 9),
    phScale: "total",
  });
  const onTotal = (await tan("calibrated-before")).unionisedAmmonia;
  expect(onTotal?.phScale).toBe("total");
  // A number on the total scale stands for less acid water than the same one on NBS: about 0.13 pH, 30 % more NH3 (Takahashi et al. 1982).
  const ratio = (onTotal?.value ?? Number.NaN) / (onNbs?.value ?? Number.NaN);
  expect(ratio).toBeGreaterThan(1.2);
  expect(ratio).toBeLessThan(1.4);
});

test("a probe an hour away says nothing of the sample; fresh water has its salinity", async () => {
  await probe("ph", NOW - HOUR, 8.05);
  expect((await readBenchWater(world.read, "reef", {})).ph).toBeNull();
  expect(nearSample({ value: 8.05, at: NOW - HOUR, origin: "probe" }, NOW)).toBeUndefined();
  expect((await readBenchWater(world.read, "creek", {})).salinity).toEqual({
    value: 0,
    at: null,
    origin: "fresh water",
  });
  await expect(readBenchForm(world.read, "no-such")).rejects.toMatchObject({ code: "not_found" });
});

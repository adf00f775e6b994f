import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import type { ReadDeps } from "#services/deps.ts";
import { AppError } from "#services/errors.ts";
import { createAheadReader } from "#services/overnight/ahead.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { readDerivedNow } from "#services/systems/read-derived-now.ts";
import { readWorking } from "#services/systems/read-working.ts";
import { createSweepReader } from "#services/systems/sweep.ts";
import type { Stream, TargetBand } from "#store/port.ts";
import { evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { type TemporaryStore, temporaryStore } from "#tests/helpers/open-store.ts";
import { edges, type SmallSite, setUpSmallSite } from "#tests/helpers/small-site.ts";

const T0 = Date.UTC(2026, 8, 1, 8);

let temporary: TemporaryStore;
let site: SmallSite;
let deps: ReadDeps;
let now = T0;
let orp: Stream;
let excess: Stream;

const band = (quantity: string): TargetBand => ({
  id: `band-${quantity}`,
  system: "bay-id",
  quantity,
  point: null,
  months: [edges({ high: 5000 })],
  validFrom: 0,
  validTo: null,
  recordedAt: 0,
  setBy: "test",
  reason: "test",
  source: "invented for the test",
});

beforeEach(async () => {
  temporary = await temporaryStore();
  const { store } = temporary;
  site = await setUpSmallSite(store, T0 - HOUR);
  orp = await store.ensureStream("display-id", "orp", "probe", { interval: 5 * MINUTE });
  excess = await store.ensureStream("display-id", "gas_excess", "probe", { interval: 5 * MINUTE });
  const clock = () => now;
  deps = {
    store,
    clock,
    setUp: createSetUpReader(store, clock),
    sweep: createSweepReader(store),
    ahead: createAheadReader(store),
    seesAll: true,
  };
});
afterEach(() => temporary.dispose());

const append = (stream: Stream, at: number, value: number) =>
  temporary.store.append({
    now: at + 1000,
    readings: [{ stream: stream.id, at, value, source: site.gateway, sequence: null, mark: null }],
    rejected: [],
    unclaimed: [],
  });

let tests = 0;
async function bench(quantity: string, at: number, value: number, qualifier: "=" | "<" | ">" = "=") {
  const stream = await temporary.store.ensureStream("display-id", quantity, "bench");
  tests += 1;
  await temporary.store.recordBench(
    {
      id: `test-${tests}`,
      clientId: `client-${tests}`,
      system: "bay-id",
      point: "display-id",
      sampledAt: at,
      enteredAt: at + MINUTE,
      analyst: "keeper",
      note: null,
      results: [
        {
          id: `result-${tests}`,
          stream: stream.id,
          quantity,
          typed: String(value),
          qualifier,
          unitTyped: "",
          value,
          method: null,
          replicate: 1,
          supersedes: null,
          reason: null,
          answer: null,
          asked: null,
        },
      ],
    },
    at + MINUTE,
  );
}

/** Five hours of a marine system, with a gap in salinity, a suspect temperature and two ammonia results. */
async function live(): Promise<void> {
  const { temperature, conductivity, ph, oxygen } = site.streams;
  await bench("total_ammonia", T0 - 2 * HOUR, 0.08);
  await bench("alkalinity", T0 - 20 * HOUR, 2.35);
  for (let i = 0; i < 60; i++) {
    const at = T0 + i * 5 * MINUTE;
    await append(temperature, at, i === 20 ? 55 : 15 + 0.01 * i);
    if (i < 30 || i > 50) await append(conductivity, at + 20_000, 41 + 0.02 * i);
    await append(oxygen, at + 40_000, 8 - 0.01 * i);
    await append(orp, at + 50_000, 320 + i);
    await append(excess, at + 60_000, 8 + 0.2 * i);
    await append(ph, at + 70_000, 8.05 - 0.002 * i);
    if (i === 25) await bench("total_ammonia", at + 75_000, 0.02, "<");
    if (i === 40) await bench("calcium", at + 75_000, 405);
  }
  await evaluateAll(await evaluatorOf(temporary.store));
  now = T0 + 61 * 5 * MINUTE;
}

describe("the working of a derived number", () => {
  test("reproduces every stored value and interval to the last bit, whatever it rests on", async () => {
    const quantities = [
      "pco2",
      "aragonite_saturation",
      "calcite_saturation",
      "redox_eh",
      "osmolality",
      "density",
      "specific_gravity",
      "total_gas_pressure",
    ];
    await temporary.store.writeSetUp({ bands: quantities.map(band) }, [], T0 - HOUR);
    await live();
    const { streams } = await temporary.store.readSetUp();
    const derived = streams.filter((stream) => stream.origin === "derived");
    expect(derived.map((stream) => stream.quantity).sort()).toEqual(
      [...quantities, "oxygen_saturation", "salinity", "unionised_ammonia"].sort(),
    );
    let compared = 0;
    for (const stream of derived) {
      const rows = await temporary.store.readDerived(stream.id, 0, Number.MAX_SAFE_INTEGER, 1000);
      expect(rows.length, stream.quantity).toBeGreaterThan(25);
      for (const row of rows) {
        const view = await readWorking(deps, "bay", {
          quantity: stream.quantity,
          point: stream.pointCode,
          at: row.at,
        });
        expect({
          at: view.at,
          value: view.value,
          low: view.low,
          high: view.high,
          formula: view.equation,
        }).toEqual({ at: row.at, value: row.value, low: row.low, high: row.high, formula: row.formula });
        expect(view.isStored).toBe(true);
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(400);
  }, 120_000);

  test("names each input with its own time, age and flag, and says what was done without one", async () => {
    await live();
    const at = T0 + 10 * 5 * MINUTE + 70_000;
    const view = await readWorking(deps, "bay", { quantity: "unionised_ammonia", at });
    expect(view).toMatchObject({ system: "bay", point: "display", at, status: "ok", unit: "mg{N}/L" });
    const [ph, temperature, salinity, tan] = view.inputs;
    expect(ph).toMatchObject({
      quantity: "ph",
      value: 8.05 - 0.002 * 10,
      at,
      age: 0,
      flag: 1,
      note: "NBS scale",
    });
    expect(temperature).toMatchObject({ quantity: "temperature", at: at - 70_000, age: 70_000 });
    expect(salinity).toMatchObject({ quantity: "salinity", origin: "derived", age: 50_000 });
    expect(tan).toMatchObject({ quantity: "total_ammonia", origin: "bench", value: 0.08 });
    expect(tan?.age).toBe(at - (T0 - 2 * HOUR));
    const step = (name: RegExp) => view.steps.find((each) => name.test(each.name))?.value ?? Number.NaN;
    // The shown steps multiply to the shown result.
    expect((step(/^Fraction/) / 100) * 0.08).toBeCloseTo(view.value ?? 0, 12);
    expect(1 / (1 + 10 ** (step(/^pK/) - step(/^pH on the total/)))).toBeCloseTo(step(/^Fraction/) / 100, 12);
    const squares = view.uncertainty.reduce((sum, part) => sum + (part.adds / 100) ** 2, 0);
    expect(Math.log((view.high ?? 0) / (view.value ?? 1)) / 2).toBeCloseTo(Math.sqrt(squares), 12);
    expect(view.text).toContain("Clegg & Whitfield 1995");
    expect(view.text.split("\n").every((line) => line.length <= 101)).toBe(true);
    const oxygen = await readWorking(deps, "bay", { quantity: "oxygen_saturation", at });
    expect(oxygen.inputs.find((input) => input.quantity === "barometric_pressure")).toMatchObject({
      value: null,
      origin: "system",
    });
    expect(oxygen.equation).toContain("standard pressure at 20 m");
  });

  test("a result below the detection limit stays a bound, and a suspect temperature is no evidence", async () => {
    await live();
    const late = await readWorking(deps, "bay", { quantity: "unionised_ammonia", at: T0 + 27 * 5 * MINUTE });
    expect(late).toMatchObject({ mark: "below", low: 0 });
    const during = T0 + 20 * 5 * MINUTE + 70_000;
    const view = await readWorking(deps, "bay", { quantity: "unionised_ammonia", at: during });
    expect(view.inputs.find((input) => input.quantity === "temperature")).toMatchObject({ value: 15.19 });
  });

  test("what no band asks for is computed when read and not kept; its interval widens with the alkalinity's age", async () => {
    await live();
    const { streams } = await temporary.store.readSetUp();
    expect(streams.some((stream) => stream.quantity === "aragonite_saturation")).toBe(false);
    const view = await readDerivedNow(deps, "bay");
    const of = (quantity: string) => view.values.find((each) => each.quantity === quantity);
    for (const quantity of ["aragonite_saturation", "pco2", "redox_eh", "density", "osmolality"])
      expect(of(quantity), quantity).toMatchObject({ isStored: false, status: "ok" });
    const gas = await readWorking(deps, "bay", { quantity: "total_gas_pressure" });
    expect(gas.steps.some((step) => /^Nitrogen with argon, of/.test(step.name))).toBe(true);
    const early = await readWorking(deps, "bay", { quantity: "pco2", at: T0 + 2 * MINUTE });
    const last = await readWorking(deps, "bay", { quantity: "pco2" });
    const ofAge = ({ uncertainty }: typeof early) =>
      uncertainty.find((part) => part.name.startsWith("Alkalinity"))?.of;
    // 3 % of a fresh titration and 2 % a day carried, in quadrature: 20 h and 24.9 h old.
    expect([ofAge(early), ofAge(last)]).toEqual(["3.4 % of the result", "3.6 % of the result"]);
    now += 3 * HOUR;
    const stale = await readDerivedNow(deps, "bay");
    expect(stale.values.find((each) => each.quantity === "density")).toMatchObject({
      value: null,
      status: "not known",
    });
  });

  test("refuses what nothing is computed from, naming what is", async () => {
    await live();
    const asked = readWorking(deps, "bay", { quantity: "hardness" });
    await expect(asked).rejects.toThrow(AppError);
    await expect(asked).rejects.toThrow(/salinity at display/);
    const before = await readWorking(deps, "bay", { quantity: "salinity", at: T0 - HOUR });
    expect(before).toMatchObject({ value: null, status: "not known", steps: [] });
  });
});

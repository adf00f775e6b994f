/** The chart of a probe against the bench inside the evaluator: what it finds, what ends it, and that order and batches do not matter. */
import { afterEach, beforeEach, expect, test } from "vitest";
import { DAY, HOUR, type Instant, MINUTE } from "#core/time/instant.ts";
import { recordBench } from "#services/bench/record-bench.ts";
import { uuidV7 } from "#services/new-id.ts";
import { recordCalibration } from "#services/probes/record-calibration.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { claimsOf, evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { type TemporaryStore, temporaryStore } from "#tests/helpers/open-store.ts";
import { type SmallSite, setUpSmallSite } from "#tests/helpers/small-site.ts";
import { KEEPER } from "../world.ts";

const START = Date.UTC(2026, 2, 2, 8);
const DAYS = 10;
/** The probe leaves the bench by 0.045 a day from the third day on. */
const drift = (at: Instant) => -0.045 * Math.max(0, (at - START) / DAY - 2);

let temporary: TemporaryStore;
let site: SmallSite;
beforeEach(async () => {
  temporary = await temporaryStore();
  site = await setUpSmallSite(temporary.store, START);
});
afterEach(() => temporary.dispose());

const writing = (now: Instant) => ({
  store: temporary.store,
  clock: () => now,
  setUp: createSetUpReader(temporary.store, () => now),
  newId: uuidV7,
});
async function read(from: Instant, to: Instant, value: (at: Instant) => number): Promise<void> {
  const readings = [];
  for (let at = from; at < to; at += 5 * MINUTE)
    readings.push({
      stream: site.streams.ph.id,
      at,
      value: value(at),
      source: site.gateway,
      sequence: null,
      mark: null,
    });
  await temporary.store.append({ now: to, readings, rejected: [], unclaimed: [] });
}
const bench = (at: Instant, typedAt: Instant) =>
  recordBench(writing(typedAt), KEEPER, {
    clientId: `test-${at}`,
    system: "bay",
    point: "display",
    sampledAt: new Date(at).toISOString(),
    results: [{ quantity: "ph", value: "8.02", unit: "[pH]" }],
  });
const drifting = async () =>
  (await temporary.store.readFindings({ limit: 100 })).filter(
    (row) => row.kind === "drifting" && row.rule === "bench",
  );

async function days(inPieces: boolean): Promise<void> {
  const evaluator = await evaluatorOf(temporary.store);
  for (let day = 0; day < DAYS; day++) {
    const from = START + day * DAY;
    const test = from + 6 * HOUR;
    await read(from, from + 6 * HOUR + 5 * MINUTE, (at) => 8.02 + drift(at));
    if (inPieces) await evaluateAll(evaluator);
    await bench(test, test + 6 * MINUTE);
    await read(from + 6 * HOUR + 5 * MINUTE, from + DAY, (at) => 8.02 + drift(at));
    if (inPieces) await evaluateAll(evaluator);
  }
  await evaluateAll(evaluator);
  await evaluator.release();
}

test("a drifting probe is found within days, and a calibration ends it at its own moment", async () => {
  await days(true);
  const [found] = await drifting();
  expect(found).toMatchObject({ rule: "bench", severity: "look", ended: null, stream: site.streams.ph.id });
  // Began to drift on the third day; six daily tests on at the latest.
  expect(found?.began).toBeLessThan(START + 8 * DAY);
  expect(Number(found?.evidence.apart)).toBeLessThan(-0.06);
  const calibrated = START + DAYS * DAY + HOUR;
  await read(START + DAYS * DAY, calibrated + 10 * MINUTE, (at) => 8.02 + drift(at));
  const done = writing(calibrated + 20 * MINUTE);
  await recordCalibration(done, KEEPER, site.streams.ph.id, {
    clientId: "calibrated",
    kind: "calibration",
    from: new Date(calibrated - 15 * MINUTE).toISOString(),
    at: new Date(calibrated).toISOString(),
    standards: [{ value: 7, read: 6.7 }],
  });
  const evaluator = await evaluatorOf(temporary.store);
  await evaluateAll(evaluator);
  await evaluator.release();
  expect(await drifting()).toMatchObject([{ id: found?.id, ended: calibrated }]);
  // What it read while it was out is no evidence about the water.
  const flags = await temporary.store.readFlags(
    site.streams.ph.id,
    calibrated - 15 * MINUTE,
    calibrated + MINUTE,
    9,
  );
  expect(flags.map((row) => [row.at - calibrated, row.flag, row.reasons])).toEqual(
    [-15, -10, -5].map((minutes) => [minutes * MINUTE, 3, ["being_checked"]]),
  );
});

test("batches and the time of typing do not change what is claimed", async () => {
  await days(true);
  const live = await claimsOf(temporary.store);
  const first = await drifting();
  await temporary.dispose();
  temporary = await temporaryStore();
  site = await setUpSmallSite(temporary.store, START);
  await days(false);
  expect(await drifting()).toEqual(first);
  expect(await claimsOf(temporary.store)).toEqual(live);
});

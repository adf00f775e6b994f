/** A probe's calibration is a property of a time: what is computed from its readings follows it, on both kinds of database. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { unionisedAmmonia } from "#core/chemistry/index.ts";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { degC, mgPerLAsN, phUnits, psu } from "#core/units/index.ts";
import type { ReadDeps, WriteDeps } from "#services/deps.ts";
import { uuidV7 } from "#services/new-id.ts";
import { createAheadReader } from "#services/overnight/ahead.ts";
import { changeStream } from "#services/set-up/change-stream.ts";
import { undoChange } from "#services/set-up/undo-change.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { readWorking } from "#services/systems/read-working.ts";
import { createSweepReader } from "#services/systems/sweep.ts";
import type { Store, Stream } from "#store/port.ts";
import { evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { temporaryPostgres, temporaryStore } from "#tests/helpers/open-store.ts";
import { type SmallSite, setUpSmallSite } from "#tests/helpers/small-site.ts";
import { actorWith } from "../world.ts";

const T0 = Date.UTC(2026, 8, 1, 8);
const CURATOR = actorWith("curator", "curator");
const [PH, CELSIUS, TAN] = [8.05, 15, 0.4];

describe.each([
  ["SQLite", temporaryStore],
  ["PostgreSQL", temporaryPostgres],
])("in %s", (_name, open) => {
  let temporary: { readonly store: Store; dispose(): Promise<void> };
  let store: Store;
  let site: SmallSite;
  let ammonia: Stream;
  let now = T0 + 3 * HOUR;

  beforeAll(async () => {
    temporary = await open();
    store = temporary.store;
    site = await setUpSmallSite(store, T0 - HOUR);
    const { temperature, conductivity, ph } = site.streams;
    const result = {
      id: "result-1",
      stream: site.streams.tan.id,
      quantity: "total_ammonia",
      typed: String(TAN),
      qualifier: "=" as const,
      unitTyped: "mg{N}/L",
      value: TAN,
      method: null,
      replicate: 1,
      supersedes: null,
      reason: null,
      answer: null,
      asked: null,
    };
    const test = { id: "test-1", clientId: "client-1", system: "bay-id", point: "display-id" };
    await store.recordBench(
      { ...test, sampledAt: T0, enteredAt: T0, analyst: "keeper", note: null, results: [result] },
      T0,
    );
    for (let i = 0; i < 24; i++) {
      const at = T0 + i * 5 * MINUTE;
      const row = (stream: Stream, after: number, value: number) => ({
        ...{ stream: stream.id, at: at + after, value, source: site.gateway, sequence: null, mark: null },
      });
      const readings = [row(temperature, 0, CELSIUS), row(conductivity, 1_000, 41), row(ph, 2_000, PH)];
      await store.append({ now: at + 3_000, readings, rejected: [], unclaimed: [] });
    }
    await evaluateAll(await evaluatorOf(store, () => now));
    const found = (await store.readSetUp()).streams.find((row) => row.quantity === "unionised_ammonia");
    if (!found) throw new Error("nothing is computed");
    ammonia = found;
  });
  afterAll(() => temporary.dispose());

  const deps = (): WriteDeps & ReadDeps => {
    const clock = () => now;
    const setUp = createSetUpReader(store, clock);
    return {
      store,
      clock,
      setUp,
      sweep: createSweepReader(store),
      ahead: createAheadReader(store),
      seesAll: true,
      newId: uuidV7,
    };
  };
  const judged = async () => {
    now += HOUR;
    await evaluateAll(await evaluatorOf(store, () => now));
    return await store.readDerived(ammonia.id, T0, T0 + 3 * HOUR, 1_000);
  };
  const expected = async (at: number, phScale: "nbs" | "total", offset: number) => {
    const salinity = (await store.readSetUp()).streams.find(
      (row) => row.quantity === "salinity" && row.origin === "derived",
    );
    const [row] = await store.readDerived(salinity?.id ?? -1, at - MINUTE, at + 1, 10);
    return unionisedAmmonia({
      tan: mgPerLAsN(TAN),
      ph: phUnits(PH + offset),
      phScale,
      t: degC(CELSIUS),
      s: psu(row?.value ?? Number.NaN),
      water: "marine",
    }).value;
  };

  test("what was computed since the calibration is computed again, what was before stays, and undoing brings it back", async () => {
    const before = await store.readDerived(ammonia.id, T0, T0 + 3 * HOUR, 1_000);
    expect(before).toHaveLength(24);
    const since = T0 + HOUR;
    const asked = { phScale: "total", phOffset: 0.02, reason: "calibrated in tris" };
    const { change } = await changeStream(deps(), CURATOR, site.streams.ph.id, {
      ...asked,
      basisFrom: new Date(since).toISOString(),
    });
    const after = await judged();
    expect(after).toHaveLength(24);
    for (const [i, row] of after.entries()) {
      if (row.at < since) expect(row).toEqual(before[i]);
      else expect(row.value).toBeCloseTo((await expected(row.at, "total", 0.02)) ?? Number.NaN, 12);
    }
    expect(before[0]?.value).toBeCloseTo((await expected(before[0]?.at ?? 0, "nbs", 0)) ?? Number.NaN, 12);
    const last = after.at(-1);
    const working = await readWorking(deps(), "bay", { quantity: "unionised_ammonia", at: last?.at });
    expect(working.value).toBe(last?.value);
    expect(working.inputs[0]?.note).toBe("total scale, probe's own offset +0.02");
    const early = await readWorking(deps(), "bay", { quantity: "unionised_ammonia", at: since - MINUTE });
    expect(early.inputs[0]?.note).toBe("NBS scale");
    await undoChange(deps(), CURATOR, change, { reason: "the wrong probe" });
    expect(await judged()).toEqual(before);
  });
});

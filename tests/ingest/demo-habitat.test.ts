/** The demo's residents ask for what its bands say, where the library knows them. */
import { afterAll, beforeAll, expect, test } from "vitest";
import { writeHabitat } from "../../ingest/demo/write-habitat.ts";
import { writeSetUp } from "../../ingest/demo/write-set-up.ts";
import { openScenario } from "../../ingest/scenario/load.ts";
import { readResidents } from "../../lib/services/read-residents.ts";
import { createSetUpReader } from "../../lib/services/set-up.ts";
import { createSweepReader } from "../../lib/services/sweep.ts";
import { type TemporaryStore, temporaryStore } from "../helpers/open-store.ts";

const scenario = openScenario(new URL("../../fixtures/pennacombe", import.meta.url).pathname);
const ANCHOR = Date.UTC(2026, 2, 2);

let temporary: TemporaryStore;
beforeAll(async () => {
  temporary = await temporaryStore();
  await writeSetUp(temporary.store, scenario, ANCHOR, ANCHOR);
  await writeHabitat(temporary.store, ANCHOR);
});
afterAll(() => temporary.dispose());

const view = (system: string) => {
  const { store } = temporary;
  const clock = () => ANCHOR;
  return readResidents(
    { store, clock, setUp: createSetUpReader(store, clock), sweep: createSweepReader(store), seesAll: true },
    system,
  );
};

test.each(["ray-lagoon", "jelly-ring", "cold-den"])(
  "%s: what is asked for is what is in force",
  async (system) => {
    const { bands } = await view(system);
    expect(bands.map((band) => band.quantity)).toEqual(["salinity", "temperature"]);
    for (const band of bands) expect(band.awaits, band.quantity).toEqual([]);
  },
);

test("kelp-gallery: garibaldi and wolf-eels are 3 degrees apart all year, and the compromise is in force", async () => {
  const { bands } = await view("kelp-gallery");
  const temperature = bands.find((band) => band.quantity === "temperature");
  expect(temperature?.conflicts).toHaveLength(12);
  expect(temperature?.months[10]).toMatchObject({
    gap: 3,
    low: { speciesName: "Garibaldi" },
    high: { speciesName: "Wolf-eel" },
    compromise: "compromise-kelp-gallery",
  });
  expect(temperature?.awaits).toEqual([]);
});

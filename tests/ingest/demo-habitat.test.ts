/** The demo's residents ask for what its bands say, where the library knows them. */
import { afterAll, beforeAll, expect, test } from "vitest";
import { writeHabitat } from "#ingest/demo/write-habitat.ts";
import { writeSetUp } from "#ingest/demo/write-set-up.ts";
import { openScenario } from "#ingest/scenario/load.ts";
import { readResidents } from "#services/habitat/read-residents.ts";
import { readAnimalWater } from "#services/home-water/read-animal-water.ts";
import { createAheadReader } from "#services/overnight/ahead.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { createSweepReader } from "#services/systems/sweep.ts";
import { type TemporaryStore, temporaryStore } from "../helpers/open-store.ts";

const scenario = openScenario(new URL("../../fixtures/pennacombe", import.meta.url).pathname);
const DAY = 86_400_000;
const ANCHOR = Date.UTC(2026, 2, 2);

let temporary: TemporaryStore;
beforeAll(async () => {
  temporary = await temporaryStore();
  await writeSetUp(temporary.store, scenario, ANCHOR, ANCHOR);
  await writeHabitat(temporary.store, ANCHOR);
});
afterAll(() => temporary.dispose());

const depsAt = (now: number) => {
  const { store } = temporary;
  const clock = () => now;
  return {
    store,
    clock,
    setUp: createSetUpReader(store, clock),
    sweep: createSweepReader(store),
    ahead: createAheadReader(store),
    seesAll: true,
  };
};
const view = (system: string) => readResidents(depsAt(ANCHOR), system);

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

test("ray-lagoon: a pup ended Tuppence's watch, Saffron is awaited by the same male's days; the pup's water is followed to its pool", async () => {
  const deps = depsAt(ANCHOR + 14 * DAY);
  const { watches } = await readResidents(deps, "ray-lagoon");
  const of = (name: string) => watches.find(({ who }) => who.startsWith(name));
  const [saffron, tuppence] = [of("Saffron"), of("Tuppence")];
  expect(tuppence).toMatchObject({ stand: "ended", outcome: "born" });
  expect(saffron).toMatchObject({ stand: "in window", watched: true, outcome: null, unbounded: null });
  // 330 days after the male came, 365 after he left: Smith & Merriner 1986, from memory.
  const [first, last] = [saffron?.first ?? 0, saffron?.last ?? 0];
  expect(saffron).toMatchObject({ earliest: first + 330 * DAY, latest: last + 365 * DAY });
  expect(tuppence?.ended).toBeGreaterThan(first + 330 * DAY);
  const { residents } = await temporary.store.readSetUp();
  const pup = residents.find((stay) => stay.name === "Farthing");
  const life = await readAnimalWater(deps, pup?.animal ?? "");
  expect(life.visits.map(({ system }) => system)).toEqual(["ray-lagoon", "pup-pool"]);
});

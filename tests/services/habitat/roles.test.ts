/** Bands follow the residents where the animals live, whatever that point is called. Every number is invented. */
import { afterEach, beforeEach, expect, test } from "vitest";
import { moveIn } from "#services/habitat/residents.ts";
import { changeBand } from "#services/set-up/change-band.ts";
import { addPoint, changePoint } from "#services/set-up/change-point.ts";
import { ADA, type Aquarium, knowSpecies, openAquarium } from "./aquarium.ts";

const NOW = Date.UTC(2026, 10, 10);
const REASON = { reason: "the display is the tap" };
let aquarium: Aquarium;
beforeEach(async () => {
  aquarium = await openAquarium(NOW);
  await knowSpecies(aquarium, "reef-runner", [{ stage: "adult", low: 12, high: 20 }]);
});
afterEach(() => aquarium.dispose());

const followed = async () => {
  await moveIn(aquarium.write, ADA, "kelp", {
    species: "reef-runner",
    stage: "adult",
    count: 1,
    name: "Pip",
    confirm: true,
  });
  const { bands } = await aquarium.store.readSetUp();
  return bands
    .filter((band) => band.origin === "residents")
    .map(({ point, months }) => [point, months[0]?.low]);
};

test("they stand at the exhibit called lagoon, where the point called display is make-up water", async () => {
  await addPoint(aquarium.write, ADA, "kelp", { code: "lagoon", role: "exhibit" });
  await changePoint(aquarium.write, ADA, "kelp", "display", { role: "make-up", ...REASON });
  expect(await followed()).toEqual([["lagoon", 12]]);
});

test("a band typed for make-up water is none of the animals'", async () => {
  const edges = { low: 10, high: 11, actionLow: null, actionHigh: null, urgentLow: null, urgentHigh: null };
  const typed = { quantity: "temperature", months: [edges], reason: "as delivered", source: "invented" };
  await addPoint(aquarium.write, ADA, "kelp", { code: "tap", role: "make-up" });
  await changeBand(aquarium.write, ADA, "kelp", { ...typed, point: "tap" });
  expect(await followed()).toEqual([["display", 12]]);
});

test("where animals have no exhibit, they hold in the whole system", async () => {
  await changePoint(aquarium.write, ADA, "kelp", "display", { role: "sump", ...REASON });
  expect(await followed()).toEqual([[null, 12]]);
});

/** What hangs on a system's type and its starting bands; what it is called decides nothing. */
import { afterEach, beforeEach, expect, test } from "vitest";
import { moveAnimal, moveIn } from "#services/habitat/residents.ts";
import { addSystem, changeSystem } from "#services/set-up/change-system.ts";
import { undoChange } from "#services/set-up/undo-change.ts";
import { ADA, type Aquarium, knowSpecies, openAquarium } from "../habitat/aquarium.ts";
import { actorWith } from "../world.ts";

const NOW = Date.UTC(2026, 10, 10);
const REASON = { reason: "it is used otherwise now" };
/** May change set-up and residents. */
const CURATOR = actorWith("curator", "curator");
let aquarium: Aquarium;
beforeEach(async () => {
  aquarium = await openAquarium(NOW);
});
afterEach(() => aquarium.dispose());

const change = (code: string, body: object) =>
  changeSystem(aquarium.write, CURATOR, code, { ...body, ...REASON });
/** A species whose profile says nothing of temperature. */
const knowsGoby = () =>
  knowSpecies(aquarium, "quiet-goby", [{ stage: "adult", quantity: "salinity", low: 30, high: 35 }]);
const temperatureBands = async () =>
  (await aquarium.store.readSetUp()).bands
    .filter((band) => band.system === "s-kelp" && band.quantity === "temperature")
    .map(({ origin, months }) => [origin, months[0]?.low, months[0]?.high]);
const pip = { species: "quiet-goby", stage: "adult", count: 1, name: "Pip" };

test("starting bands are those that were chosen, whatever the system is called", async () => {
  await knowsGoby();
  await change("kelp", { kind: "coral reef", startingBands: "octopus" });
  await moveIn(aquarium.write, ADA, "kelp", pip);
  // Starting band of temperature for an octopus: common practice, no source.
  expect(await temperatureBands()).toEqual([["type", 8, 11]]);
});

test("there are none where none were chosen, though the name sounds like some", async () => {
  await knowsGoby();
  await change("kelp", { kind: "octopus", startingBands: null });
  await moveIn(aquarium.write, ADA, "kelp", pip);
  expect(await temperatureBands()).toEqual([]);
});

test("no animal is moved into a make-up tank, and no system becomes one while animals live in it", async () => {
  await knowsGoby();
  const { change: toTank } = await change("nursery", { type: "make-up-tank" });
  await expect(moveIn(aquarium.write, ADA, "nursery", pip)).rejects.toMatchObject({
    issues: [{ field: "system", value: "nursery", says: "is a make-up tank and keeps no animals" }],
  });
  const { id } = await moveIn(aquarium.write, ADA, "kelp", pip);
  await expect(moveAnimal(aquarium.write, ADA, id, { how: "moved", to: "nursery" })).rejects.toMatchObject({
    issues: [{ field: "to", value: "nursery" }],
  });
  await expect(change("kelp", { type: "make-up-tank" })).rejects.toMatchObject({
    code: "conflict",
    issues: [{ field: "type", remedy: "move the animals out first" }],
  });
  await moveAnimal(aquarium.write, ADA, id, { how: "left", to: null });
  aquarium.now += 1_000;
  await change("kelp", { type: "make-up-tank" });

  await undoChange(aquarium.write, CURATOR, toTank, REASON);
  await change("nursery", { type: "make-up-tank" });
  const { change: back } = await change("nursery", { type: "nursery" });
  await moveIn(aquarium.write, ADA, "nursery", pip);
  await expect(undoChange(aquarium.write, CURATOR, back, REASON)).rejects.toMatchObject({ code: "conflict" });
});

test.each([
  ["quarantine", true],
  ["acclimation", true],
  ["nursery", true],
  ["temporary", true],
  ["exhibit", false],
  ["holding", false],
  ["make-up-tank", false],
  ["other", false],
])(
  "a new %s counts ammonia tests as of a young filter: %s, unless something else is said",
  async (type, isYoung) => {
    const pool = { site: "harbour", name: "Pool", kind: "any", type, water: "marine", volume: 6 };
    await addSystem(aquarium.write, CURATOR, { ...pool, code: "one" });
    await addSystem(aquarium.write, CURATOR, { ...pool, code: "two", youngFilter: !isYoung });
    const view = async (code: string) =>
      (await aquarium.store.readSetUp()).systems.find((row) => row.code === code);
    expect(await view("one")).toMatchObject({ type, startingBands: null, youngFilter: isYoung });
    expect(await view("two")).toMatchObject({ youngFilter: !isYoung });
  },
);

test("a change of before types existed is undone, and the type stays", async () => {
  const { store, write } = aquarium;
  const kelp = (await store.readSetUp()).systems.find((row) => row.code === "kelp");
  if (!kelp) throw new Error("there is no kelp");
  const older = { ...kelp, volume: 12 };
  await store.writeSetUp({ systems: [{ ...older, type: "holding", startingBands: "octopus" }] }, [], NOW);
  const withoutType = ({ type: _type, startingBands: _bands, ...row }: typeof kelp) => row;
  const record = { before: withoutType(kelp), after: withoutType(older), reason: "measured" };
  const row = {
    at: NOW,
    actor: CURATOR.name,
    actorId: CURATOR.id,
    verb: "change-system",
    subject: "system:kelp",
  };
  const { audit } = await store.writeSetUp({}, [], NOW, { ...row, record });
  await undoChange(write, CURATOR, audit ?? 0, { reason: "measured wrongly" });
  expect((await store.readSetUp()).systems.find((each) => each.code === "kelp")).toEqual({
    ...kelp,
    type: "holding",
    startingBands: "octopus",
  });
});

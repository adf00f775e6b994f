import { afterEach, beforeEach, expect, test } from "vitest";
import { openLibrary } from "#config/profile-library.ts";
import { noteBreeding, openWatch, recordBirth } from "#services/habitat/breeding.ts";
import { addFromLibrary } from "#services/habitat/profiles.ts";
import { readLiving } from "#services/habitat/read-living.ts";
import { readResidents } from "#services/habitat/read-residents.ts";
import { correctStay, moveAnimal, moveIn } from "#services/habitat/residents.ts";
import { createAheadReader } from "#services/overnight/ahead.ts";
import { createSweepReader } from "#services/systems/sweep.ts";
import { ADA, type Aquarium, openAquarium } from "./aquarium.ts";

const DAY = 86_400_000;
const NOW = Date.UTC(2026, 10, 10);
let aquarium: Aquarium;
let mother: string;
beforeEach(async () => {
  aquarium = await openAquarium(NOW);
  await addFromLibrary({ ...aquarium.write, library: openLibrary() }, ADA, { species: ["cownose-ray"] });
  const came = {
    species: "cownose-ray",
    stage: "gestating",
    count: 1,
    name: "Tuppence",
    sex: "female",
    at: NOW - 400 * DAY,
  };
  mother = (await moveIn(aquarium.write, ADA, "kelp", came)).id;
});
afterEach(() => aquarium.dispose());
const deps = () => ({
  store: aquarium.store,
  clock: () => aquarium.now,
  setUp: aquarium.write.setUp,
  sweep: createSweepReader(aquarium.store),
  ahead: createAheadReader(aquarium.store),
  seesAll: true,
});
const view = (code = "kelp") => readResidents(deps(), code);
const open = (more: object = {}) =>
  openWatch(aquarium.write, ADA, "kelp", {
    animal: mother,
    kind: "gestation",
    first: NOW - 341 * DAY,
    last: NOW - 290 * DAY,
    mayDelay: false,
    ...more,
  });

// Gestation of 330 to 365 days: Smith & Merriner 1986, from memory.
test("the window comes from the species with its source; a closer one by a person's word stands beside it", async () => {
  const { id } = await open();
  expect((await view()).watches[0]).toMatchObject({
    stand: "in window",
    earliest: NOW - 11 * DAY,
    latest: NOW + 75 * DAY,
    source: "Smith & Merriner 1986, Fishery Bulletin (one large pup after 11 to 12 months)",
  });
  const earliest = NOW + 10 * DAY;
  await noteBreeding(aquarium.write, ADA, id, { kind: "ultrasound", embryos: 1, moving: true });
  aquarium.now = NOW + 60_000;
  await noteBreeding(aquarium.write, ADA, id, {
    kind: "narrowed",
    earliest,
    latest: NOW + 20 * DAY,
    reason: "disc width on the ultrasound",
  });
  const [watch] = (await view()).watches;
  expect(watch).toMatchObject({
    stand: "before",
    earliest: NOW - 11 * DAY,
    narrowed: { earliest, by: "Ada" },
  });
  expect(watch?.events.map((event) => event.kind)).toEqual(["ultrasound", "narrowed"]);
});

test("where delay is not known to be impossible the late edge stays open; past a bounded one it is overdue", async () => {
  await open({ mayDelay: undefined });
  expect((await view()).watches[0]).toMatchObject({ latest: null, unbounded: "storage possible" });
  aquarium.now = NOW + 76 * DAY;
  await open();
  expect((await view()).watches[0]?.stand).toBe("overdue");
});

test("the watch goes where its mother goes, says where it counts now, and is on that system's page", async () => {
  await open();
  expect((await view()).watches[0]).toMatchObject({
    watched: true,
    spans: [{ from: NOW - 11 * DAY, to: null }],
  });
  await moveAnimal(aquarium.write, ADA, mother, { to: "nursery", how: "moved", at: NOW - 5 * DAY });
  expect((await view()).watches[0]).toMatchObject({
    watched: false,
    spans: [{ from: NOW - 11 * DAY, to: NOW - 5 * DAY }],
  });
  expect((await view("nursery")).watches[0]).toMatchObject({
    who: "Tuppence, Cownose ray (gestating)",
    watched: true,
    spans: [{ from: NOW - 5 * DAY, to: null }],
  });
  const living = await readLiving(deps(), "nursery");
  expect(living.residents.map(({ name }) => name)).toEqual(["Tuppence"]);
  expect(living.watches).toEqual((await view("nursery")).watches);
  await expect(readLiving(deps(), "attic")).rejects.toMatchObject({ code: "not_found" });
});

test("a birth makes residents by its record, ends the watch and stands in the logbook; a second end is refused", async () => {
  const { id: watch } = await open();
  const young = [
    { name: "Farthing", sex: "female", sizeCm: 41, sizeKind: "disc width", weightKg: 1.1, yolk: "scar" },
  ];
  await recordBirth(aquarium.write, ADA, "kelp", { species: "cownose-ray", mother, watch, live: 1, young });
  const seen = await view();
  expect(seen.residents.map(({ name, stage, count }) => [name, stage, count])).toEqual([
    ["Tuppence", "gestating", 1],
    ["Farthing", "pup or juvenile", 1],
  ]);
  expect(seen.watches[0]).toMatchObject({ stand: "ended", outcome: "born", ended: NOW });
  const log = await aquarium.store.readLog({ limit: 5, kinds: ["birth"] });
  expect(log[0]?.versions[0]?.text).toBe(
    "1 Cownose ray found alive, mother Tuppence, Cownose ray (gestating)",
  );
  const late = noteBreeding(aquarium.write, ADA, watch, { kind: "outcome", outcome: "aborted" });
  await expect(late).rejects.toMatchObject({ code: "conflict" });
});

test("an animal keeps its identity through systems, part of a group too, and a wrong day is put right", async () => {
  const group = { species: "cownose-ray", stage: "pup or juvenile", count: 5, at: NOW - 20 * DAY };
  const { id } = await moveIn(aquarium.write, ADA, "kelp", group);
  const moved = await moveAnimal(aquarium.write, ADA, id, {
    to: "nursery",
    how: "moved",
    count: 2,
    at: NOW - 5 * DAY,
  });
  const there = (await view("nursery")).residents;
  expect(there).toMatchObject([{ count: 2, animal: id }]);
  expect((await view()).residents.find((stay) => stay.name === null)).toMatchObject({ count: 3, animal: id });
  await correctStay(aquarium.write, ADA, moved.id, { from: NOW - 4 * DAY, reason: "it was the day after" });
  expect((await view("nursery")).residents[0]?.from).toBe(NOW - 4 * DAY);
  const tooMany = moveAnimal(aquarium.write, ADA, moved.id, { to: "kelp", how: "moved", count: 9 });
  await expect(tooMany).rejects.toMatchObject({ code: "invalid", issues: [{ field: "count" }] });
});

import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { openLibrary } from "#config/profile-library.ts";
import { profileFile, profilesView, profileView, residentsView } from "#contract/habitat.ts";
import {
  CONFIDENCES,
  ENTRY_KINDS,
  entryFaults,
  MARKS,
  MEANINGS,
  type ProfileEntry,
  STAGES,
} from "#core/habitat/index.ts";
import { quantity } from "#core/units/index.ts";
import {
  profileFromCsv,
  profileFromJson,
  profileSchema,
  profileToCsv,
} from "#services/habitat/profile-files.ts";
import { addFromLibrary, importProfile, saveProfile } from "#services/habitat/profiles.ts";
import { exportProfile, readProfile, readProfiles } from "#services/habitat/read-profiles.ts";
import { readResidents } from "#services/habitat/read-residents.ts";
import { moveIn } from "#services/habitat/residents.ts";
import { createAheadReader } from "#services/overnight/ahead.ts";
import { createSweepReader } from "#services/systems/sweep.ts";
import { ADA, type Aquarium, openAquarium } from "./aquarium.ts";

const NOW = Date.UTC(2026, 10, 10);
const library = openLibrary();
let aquarium: Aquarium;
beforeEach(async () => {
  aquarium = await openAquarium(NOW);
});
afterEach(() => aquarium.dispose());
const reading = () => ({
  store: aquarium.store,
  clock: () => aquarium.now,
  setUp: aquarium.write.setUp,
  sweep: createSweepReader(aquarium.store),
  ahead: createAheadReader(aquarium.store),
  seesAll: true,
  library,
});

describe("the library", () => {
  test("every entry is sound, with its source and how that was come by", async () => {
    const files = await library();
    expect(files.map((file) => file.species.id)).toContain("zebra-shark");
    for (const file of files) {
      for (const profile of file.profiles)
        expect(
          entryFaults(profile.entries, (id) => quantity(id)?.kind === "number"),
          file.species.id,
        ).toEqual([]);
      for (const { shortestDays, longestDays } of file.species.development)
        expect(shortestDays, file.species.id).toBeLessThanOrEqual(longestDays);
    }
  });

  // Eggs of the zebra shark: 152.5 ± 26.5 days (Kunze & Simmons 2004, Elasmobranch Husbandry Manual).
  test("carries published figures over: incubation of the zebra shark", async () => {
    const zebra = (await library()).find((file) => file.species.id === "zebra-shark");
    expect(zebra?.species.development[0]).toMatchObject({
      shortestDays: 152.5 - 26.5,
      longestDays: 152.5 + 26.5,
    });
  });

  test("is taken in whole and known then; a second time makes a new version", async () => {
    const deps = { ...aquarium.write, library };
    await addFromLibrary(deps, ADA, { species: ["cownose-ray", "leopard-shark"] });
    await addFromLibrary(deps, ADA, { species: ["cownose-ray"] });
    const { species, library: shelf } = await readProfiles(reading());
    const profiles = await readProfiles(reading());
    expect(profilesView.parse(profiles)).toEqual(profiles);
    const one = await readProfile(reading(), "cownose-ray");
    expect(profileView.parse(one)).toEqual(one);
    expect(species.map((each) => each.id)).toEqual(["cownose-ray", "leopard-shark"]);
    expect(species[0]?.profiles.map(({ version, inForce }) => [version, inForce])).toEqual([
      [2, true],
      [1, false],
    ]);
    expect(shelf.filter((each) => each.isKnown).map((each) => each.id)).toEqual([
      "cownose-ray",
      "leopard-shark",
    ]);
    expect(
      (await readProfile(reading(), "leopard-shark")).profiles.map((each) => each.population).sort(),
    ).toEqual([null, "Monterey", "San Diego"].sort());
    await expect(addFromLibrary(deps, ADA, { species: ["mermaid"] })).rejects.toMatchObject({
      code: "not_found",
    });
  });

  // Display 28 to 34, seen at 8 (Smith & Merriner 1987): limits 26 and 35, the tolerated 35 lying nearer than 34 + 2.
  test("gives the cownose ray a salinity of 28 to 34 with limits at 26 and 35", async () => {
    await addFromLibrary({ ...aquarium.write, library }, ADA, { species: ["cownose-ray"] });
    await moveIn(aquarium.write, ADA, "kelp", { species: "cownose-ray", stage: "adult", count: 4 });
    const salinity = (await readResidents(reading(), "kelp")).bands.find(
      (band) => band.quantity === "salinity",
    );
    const seen = await readResidents(reading(), "kelp");
    expect(residentsView.parse(seen)).toEqual(seen);
    expect(salinity?.months[5]?.asked).toMatchObject({ low: 28, high: 34, actionLow: 26, actionHigh: 35 });
  });
});

describe("files", () => {
  const word = fc
    .string({ minLength: 3, maxLength: 30 })
    .filter(
      (text) => text.trim() === text && text.length > 2 && !/^[=+@\t\r]/.test(text) && !text.includes("\r"),
    );
  const number = fc
    .double({ min: -5, max: 40, noNaN: true })
    .map((value) => Math.round(value * 100) / 100 + 0);
  const row: fc.Arbitrary<ProfileEntry> = fc.record({
    quantity: fc.constantFrom("temperature", "salinity", "ph"),
    stage: fc.constantFrom(null, ...STAGES),
    month: fc.option(fc.integer({ min: 1, max: 12 })),
    low: fc.option(number),
    typical: fc.option(number),
    high: fc.option(number),
    means: fc.constantFrom(...MEANINGS),
    kind: fc.constantFrom(...ENTRY_KINDS),
    depth: fc.option(word),
    place: fc.option(word),
    years: fc.option(word),
    source: word,
    mark: fc.constantFrom(...MARKS),
    method: fc.option(word),
    confidence: fc.constantFrom(...CONFIDENCES),
    note: fc.option(word),
  });

  test("what is written as CSV reads back the same, whatever stands in its text", () => {
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 5 }), (entries) => {
        const read = profileFromCsv(profileToCsv(entries), "north");
        expect(read).toMatchObject({ ok: true, profiles: [{ population: "north", entries }] });
      }),
    );
  });

  test("what is exported as JSON is imported again, by the published schema", async () => {
    await addFromLibrary({ ...aquarium.write, library }, ADA, { species: ["zebra-shark"] });
    const { text } = await exportProfile(reading(), "zebra-shark", { format: "json" });
    const file = profileFile.parse(JSON.parse(text));
    expect(profileFromJson(text)).toEqual({ ok: true, species: file.species, profiles: file.profiles });
    await importProfile(aquarium.write, ADA, "zebra-shark", {
      format: "json",
      text,
      reason: "there and back",
    });
    expect((await exportProfile(reading(), "zebra-shark", { format: "json" })).text).toBe(text);
    expect(profileSchema()).toMatchObject({
      $id: "/api/v1/profiles/schema.json",
      type: "object",
      required: ["format", "species", "profiles"],
    });
  });

  test("a row without its source, or with a column of somebody else's, is refused whole and by its name", async () => {
    await addFromLibrary({ ...aquarium.write, library }, ADA, { species: ["garibaldi"] });
    const text =
      'quantity,low,high,means,kind,source,mark,confidence,colour\ntemperature,"8,5",11,extremes seen,advice,,read,low,red\n';
    const sent = importProfile(aquarium.write, ADA, "garibaldi", { format: "csv", text, reason: "a table" });
    await expect(sent).rejects.toMatchObject({
      code: "invalid",
      issues: [{ field: "text" }, { field: "row 2.low" }, { field: "row 2.source" }],
    });
    expect((await readProfile(reading(), "garibaldi")).profiles).toHaveLength(1);
  });
});

test("a number without a source is refused at its field, and the versions before stay readable", async () => {
  const entry = {
    quantity: "temperature",
    low: 8,
    high: 11,
    means: "extremes seen",
    kind: "advice",
    source: "a note",
    mark: "read",
    confidence: "low",
  };
  const species = { id: "cold-skate", name: "Cold skate" };
  await saveProfile(aquarium.write, ADA, "cold-skate", { species, entries: [entry], reason: "first" });
  const bad = saveProfile(aquarium.write, ADA, "cold-skate", {
    entries: [{ ...entry, source: "" }],
    reason: "second",
  });
  await expect(bad).rejects.toMatchObject({ code: "invalid", issues: [{ field: "entries.0.source" }] });
  await saveProfile(aquarium.write, ADA, "cold-skate", {
    entries: [{ ...entry, high: 12 }],
    reason: "second",
  });
  const { profiles } = await readProfile(reading(), "cold-skate");
  expect(profiles.map(({ version, reason, all }) => [version, reason, all[0]?.high])).toEqual([
    [2, "second", 12],
    [1, "first", 11],
  ]);
});

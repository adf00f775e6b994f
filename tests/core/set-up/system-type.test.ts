import { expect, test } from "vitest";
import { SYSTEM_TYPE_IDS, SYSTEM_TYPES } from "#core/set-up/system-type.ts";

test("animals live in every type but a make-up tank; filters are young where animals stay for a while", () => {
  expect(SYSTEM_TYPE_IDS.filter((id) => !SYSTEM_TYPES[id].keepsAnimals)).toEqual(["make-up-tank"]);
  expect(SYSTEM_TYPE_IDS.filter((id) => SYSTEM_TYPES[id].hasYoungFilter)).toEqual([
    "quarantine",
    "acclimation",
    "nursery",
    "temporary",
  ]);
  const labels = SYSTEM_TYPE_IDS.map((id) => SYSTEM_TYPES[id].label);
  expect(new Set(labels).size).toBe(labels.length);
});

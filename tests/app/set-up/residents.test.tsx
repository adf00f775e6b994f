/** What the set-up page says of residents, from what the service answers. */
import { renderToStaticMarkup } from "react-dom/server";
import { afterEach, beforeEach, expect, test } from "vitest";
import { ResidentsSection } from "#app/set-up/_parts/residents/residents-section.tsx";
import { openWatch } from "#services/habitat/breeding.ts";
import { readResidents } from "#services/habitat/read-residents.ts";
import { moveIn } from "#services/habitat/residents.ts";
import { createAheadReader } from "#services/overnight/ahead.ts";
import { createSweepReader } from "#services/systems/sweep.ts";
import { ADA, type Aquarium, knowSpecies, openAquarium } from "#tests/services/habitat/aquarium.ts";

const NOW = Date.UTC(2026, 10, 10);
let aquarium: Aquarium;
beforeEach(async () => {
  aquarium = await openAquarium(NOW);
});
afterEach(() => aquarium.dispose());

test("names the gap, who sets each edge, the open edge of a watch, and what waits for a person", async () => {
  const { store, write } = aquarium;
  await knowSpecies(aquarium, "reef-runner", [{ stage: "adult", low: 12, high: 20 }]);
  await knowSpecies(aquarium, "cold-skate", [{ stage: "egg or larva", low: 8, high: 11 }]);
  const lives = { stage: "adult", count: 1, name: "Pip", confirm: true };
  const { id } = await moveIn(write, ADA, "kelp", { ...lives, species: "reef-runner" });
  await moveIn(write, ADA, "kelp", { species: "cold-skate", stage: "egg or larva", count: 4 });
  const days = { shortestDays: 200, longestDays: 250, source: "invented" };
  await openWatch(write, ADA, "kelp", { animal: id, kind: "gestation", first: NOW, last: null, ...days });
  const view = await readResidents(
    {
      store,
      clock: () => NOW,
      setUp: write.setUp,
      sweep: createSweepReader(store),
      ahead: createAheadReader(store),
      seesAll: true,
    },
    "kelp",
  );
  const text = (may: boolean) =>
    renderToStaticMarkup(<ResidentsSection view={view} may={may} onChange={() => undefined} />)
      .replace(/<[^>]+>/g, " ")
      .replace(/\s+/g, " ");
  const shown = text(true);
  expect(shown).toMatch(/No common range \(every month ?; this month the ranges are 1\.0 °C apart ?\)/);
  expect(shown).toMatch(/12\.0, reef runner \(adult\): invented husbandry note on reef-runner/);
  expect(shown).toMatch(/Pip, reef runner.*4 cold skate/);
  expect(shown).toContain("no latest date: storage possible");
  expect(shown.match(/no latest date/g)).toHaveLength(1);
  expect(shown).toContain("Sign a compromise");
  expect(text(false)).not.toMatch(/Sign a compromise|Move in|Open a watch/);
});

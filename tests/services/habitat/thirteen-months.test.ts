/**
 * Thirteen months of bands across two stage changes and a move, day by day in the site's own days, the one of 23 hours and the one of 25
 * included (Europe/London: 29 March and 25 October 2026). The reference is reckoned here from the entries alone.
 */
import { Temporal } from "temporal-polyfill";
import { afterEach, beforeEach, expect, test } from "vitest";
import { bandFor, edgesAt } from "#core/habitat/index.ts";
import { changeStage, moveAnimal, moveIn } from "#services/habitat/residents.ts";
import { ADA, type Aquarium, knowSpecies, openAquarium, ZONE } from "./aquarium.ts";

const local = (text: string) => Temporal.PlainDateTime.from(text).toZonedDateTime(ZONE).epochMilliseconds;
const CAME = local("2026-02-20T00:00");
const HATCHED = local("2026-03-29T09:30");
const GREW = local("2026-10-25T09:30");
const MOVED = local("2027-01-10T12:00");

/** Low edge by stage and month; high is 4 above it. Invented. */
const LOWS: Record<string, (month: number) => number> = {
  "egg or larva": (month) => 6 + month / 4,
  "pup or juvenile": (month) => 10 + Math.abs(month - 8) / 2,
  adult: (month) => 12 - Math.abs(month - 7) / 3,
};
const stageAt = (at: number) => (at < HATCHED ? "egg or larva" : at < GREW ? "pup or juvenile" : "adult");

function lowAt(at: number): number {
  const date = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(ZONE).toPlainDate();
  const before = date.day >= 15 ? date.with({ day: 15 }) : date.subtract({ months: 1 }).with({ day: 15 });
  const after = before.add({ months: 1 });
  const instant = (day: Temporal.PlainDate) => day.toZonedDateTime({ timeZone: ZONE }).epochMilliseconds;
  const share = (at - instant(before)) / (instant(after) - instant(before));
  const low = LOWS[stageAt(at)] as (month: number) => number;
  return low(before.month) + (low(after.month) - low(before.month)) * share;
}

let aquarium: Aquarium;
beforeEach(async () => {
  aquarium = await openAquarium(CAME);
  await knowSpecies(
    aquarium,
    "bay-skate",
    Object.entries(LOWS).flatMap(([stage, low]) =>
      Array.from({ length: 12 }, (_, i) => ({ stage, month: i + 1, low: low(i + 1), high: low(i + 1) + 4 })),
    ),
  );
});
afterEach(() => aquarium.dispose());

test("thirteen months are right on every day, at noon, at midnight and on both sides of each change", async () => {
  const { write } = aquarium;
  const confirm = true;
  const came = await moveIn(write, ADA, "nursery", {
    species: "bay-skate",
    stage: "egg or larva",
    count: 1,
    name: "Dot",
    at: CAME,
    confirm,
  });
  aquarium.now = HATCHED;
  const hatched = await changeStage(write, ADA, came.id, { stage: "pup or juvenile", confirm });
  aquarium.now = GREW;
  const grown = await changeStage(write, ADA, hatched.id, { stage: "adult", confirm });
  aquarium.now = MOVED;
  await moveAnimal(write, ADA, grown.id, { to: "kelp", how: "moved", confirm });

  const { bands, residents } = await aquarium.store.readSetUp();
  const edges = (system: string, at: number) => {
    const band = bandFor(bands, system, "temperature", "display", at);
    return band && edgesAt(band.months, at, ZONE);
  };
  let day = Temporal.PlainDate.from("2026-02-20");
  const end = Temporal.PlainDate.from("2027-03-20");
  const lengths = new Set<number>();
  let checked = 0;
  const check = (at: number) => {
    const system = at < MOVED ? "s-nursery" : "s-kelp";
    const found = edges(system, at);
    const said = `${Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(ZONE)}`;
    expect(found?.low, said).toBeCloseTo(lowAt(at), 9);
    expect(found?.high, said).toBeCloseTo(lowAt(at) + 4, 9);
    // 2 Cel beyond the edge: common practice, no source.
    expect(found?.actionLow, said).toBeCloseTo(lowAt(at) - 2, 9);
    checked++;
  };
  while (Temporal.PlainDate.compare(day, end) < 0) {
    const midnight = day.toZonedDateTime({ timeZone: ZONE }).epochMilliseconds;
    const next = day.add({ days: 1 }).toZonedDateTime({ timeZone: ZONE }).epochMilliseconds;
    lengths.add((next - midnight) / 3_600_000);
    for (const at of [midnight, (midnight + next) / 2, next - 1]) check(at);
    day = day.add({ days: 1 });
  }
  for (const change of [HATCHED, GREW, MOVED]) for (const at of [change - 1, change]) check(at);
  expect([...lengths].sort()).toEqual([23, 24, 25]);
  expect(checked).toBe(393 * 3 + 6);
  expect(edges("s-kelp", MOVED - 1)).toBeUndefined();
  // One animal through four stays, in two systems.
  expect(new Set(residents.map((stay) => stay.animal)).size).toBe(1);
  expect(residents.map((stay) => stay.ended).sort()).toEqual(["moved", "stage", "stage", null].sort());
});

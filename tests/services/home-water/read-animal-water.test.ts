/** The water of one animal: followed through its systems, counted quarter hour by quarter hour, and nothing unread passed over. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { QUARTER_HOUR } from "../../../lib/core/quality/rollup.ts";
import { DAY, HOUR } from "../../../lib/core/time/instant.ts";
import { animalWaterView } from "../../../lib/core/wire/animal-water.ts";
import { animalWaterTable } from "../../../lib/services/home-water/animal-water-table.ts";
import { readAnimalWater } from "../../../lib/services/read-animal-water.ts";
import { readHomeWater } from "../../../lib/services/read-home-water.ts";
import { createScope } from "../../../lib/services/scope.ts";
import { actorWith, type World } from "../world.ts";
import { entry, openHall, profile, rollupsOf, stay } from "./made.ts";

const YEAR = Date.UTC(2026, 0, 1);
const FEBRUARY = Date.UTC(2026, 1, 1);
const MARCH = Date.UTC(2026, 2, 1);
/** Grown on 15 March, moved on 10 April: midnight UTC, which is 01:00 in London by then. */
const GROWN = Date.UTC(2026, 2, 15);
const MOVED = Date.UTC(2026, 3, 10);
const bramble = { name: "Bramble", animal: "bramble" } as const;
const STAYS = [
  stay("1", "wolf-eel", { ...bramble, stage: "pup or juvenile", from: YEAR, to: GROWN, ended: "stage" }),
  stay("2", "wolf-eel", { ...bramble, from: GROWN, to: MOVED, ended: "moved" }),
  stay("3", "wolf-eel", { ...bramble, system: "s-rays", from: MOVED }),
];
/** 10 to 14 °C for all, and colder for the young. */
const EEL = profile("wolf-eel", [
  entry({ low: 10, high: 14 }),
  entry({ low: 8, high: 11, stage: "pup or juvenile" }),
]);
const DAYS_THERE = Math.floor((Date.UTC(2026, 10, 20, 12) - MOVED) / DAY);

let world: World;
const water = (year?: number) => readAnimalWater(world.read, "bramble", year === undefined ? {} : { year });

/** 10.5 °C in the kelp gallery but 13 in February, two days of it not read. */
async function kelp() {
  const { id } = await world.stream("kelp", "display", "temperature");
  await world.evaluated({
    rollups: rollupsOf(
      id,
      YEAR,
      world.now,
      (at) => (at >= FEBRUARY && at < MARCH ? 13 : 10.5),
      (at) => at >= FEBRUARY + 3 * DAY && at < FEBRUARY + 5 * DAY,
    ),
  });
}

describe("the water of one animal", () => {
  // Read by all but the last test, which adds to it.
  beforeAll(async () => {
    world = await openHall(STAYS, [EEL]);
    await kelp();
  });
  afterAll(() => world.dispose());

  it("is told by visit and site-local month: how it lay, what was read, and the range of its stage then", async () => {
    const view = await water();
    expect(animalWaterView.parse(view)).toEqual(view);
    expect(view).toMatchObject({
      name: "Bramble",
      from: YEAR,
      to: world.now,
      years: [2026],
      isWhole: true,
      livesIn: [{ system: "rays", stage: "adult", count: 1 }],
    });
    expect(view.visits.map(({ system, from, to, ended }) => [system, from, to, ended])).toEqual([
      ["kelp", YEAR, MOVED, "moved"],
      ["rays", MOVED, null, null],
    ]);
    const of = view.visits[0]?.quantities.find(({ quantity }) => quantity === "temperature");
    const hours = (quarters: number) => (quarters * QUARTER_HOUR) / HOUR;
    // March loses an hour to the clock in London; April ends at 01:00 of the 10th.
    expect(of?.months.map(({ month, read }) => [month, hours(read.possible)])).toEqual([
      [1, 31 * 24],
      [2, 28 * 24],
      [3, 31 * 24 - 1],
      [4, 9 * 24 + 1],
    ]);
    const [january, february, march] = of?.months ?? [];
    expect(january).toMatchObject({
      water: { low: 10.5, median: 10.5, high: 10.5 },
      read: { good: 31 * 96 },
    });
    expect(january?.held).toMatchObject([
      { stage: "pup or juvenile", basis: "native", range: { low: 8, high: 11 }, fit: { share: 1 } },
    ]);
    expect(february?.read).toEqual({ good: 26 * 96, possible: 28 * 96 });
    expect(february?.held[0]?.fit).toMatchObject({
      share: 0,
      scored: 26 * 96,
      typicalMiss: expect.closeTo(2, 9),
      widestMiss: expect.closeTo(2, 9),
    });
    // Grown in the middle of March: each stage is held against its own range for its own time.
    expect(march?.held.map(({ stage, fit }) => [stage, hours(fit.possible)])).toEqual([
      ["pup or juvenile", 14 * 24],
      ["adult", 17 * 24 - 1],
    ]);
  });

  it("agrees to the last bit with home water of the system for the same animal and month", async () => {
    const life = (await water()).visits[0]?.quantities[0];
    const home = (await readHomeWater(world.read, "kelp", { year: 2026 })).quantities[0];
    const young = home?.fits.find(({ against }) => against === "wolf-eel, pup or juvenile");
    for (const month of [1, 2, 3]) {
      const own = life?.months[month - 1]?.held.find(({ stage }) => stage === "pup or juvenile");
      expect(own?.fit, `month ${month}`).toEqual(young?.months[month - 1]);
    }
    expect(life?.months[1]?.water).toEqual(home?.water[1]);
  });

  it("says where nothing was read, counts it as lived, and never as in or out of range", async () => {
    const view = await water();
    const [temperature] = view.quantities;
    expect(view.visits[1]?.quantities[0]).toMatchObject({ point: null, held: [], read: { good: 0 } });
    expect(temperature?.unread).toEqual([{ system: "rays", systemName: "rays", days: DAYS_THERE }]);
    const possible = Math.ceil((world.now - YEAR) / QUARTER_HOUR);
    const good = (MOVED - YEAR) / QUARTER_HOUR - 2 * 96;
    expect(temperature?.read).toEqual({ good, possible });
    // By hand: all but the 26 days of February that were read.
    expect(temperature?.fits).toMatchObject([
      { basis: "native", fit: { scored: good, share: (good - 26 * 96) / good } },
    ]);
    expect(temperature?.says).toBe(
      `Temperature: inside its native range 73 % of what could be held against it; 30 % of its time was read. Nothing was read in rays (${DAYS_THERE} days).`,
    );
    expect(view.quantities.map(({ quantity }) => quantity)).toEqual(["temperature"]);
  });

  it("is narrowed to a year, and to the systems that may be seen, which it says", async () => {
    const before = await water(2025);
    expect(before.visits).toEqual([]);
    expect((await water(2026)).visits).toEqual((await water()).visits);
    const scope = createScope(world.read);
    const of = (system: string) =>
      scope({ ...actorWith("viewer", "x"), grants: [{ role: "viewer", site: null, system }] });
    const seen = await readAnimalWater(of("s-rays"), "bramble");
    expect(seen).toMatchObject({ isWhole: false, from: MOVED, visits: [{ system: "rays" }] });
    await expect(readAnimalWater(of("s-else"), "bramble")).rejects.toMatchObject({ code: "not_found" });
    await expect(readAnimalWater(world.read, "nobody")).rejects.toMatchObject({ code: "not_found" });
  });

  it("is a table with a row a system, month and stage, empty where nothing is known", async () => {
    const lines = animalWaterTable(await water()).split("\r\n");
    const months = 4 + 1 + 8;
    expect(lines).toHaveLength(1 + months + 1);
    expect(lines[0]).toMatch(/^animal,species,system,year,month,quantity,unit,water_5_percent/);
    expect(lines[1]).toBe(
      `Bramble,wolf-eel,kelp,2026,1,temperature,Cel,10.5,10.5,10.5,${31 * 96},${31 * 96},pup or juvenile,native,8,11,1,,,${31 * 96}`,
    );
    expect(lines.find((line) => line.startsWith("Bramble,wolf-eel,rays,2026,6,"))).toBe(
      `Bramble,wolf-eel,rays,2026,6,temperature,Cel,,,,0,${30 * 96},,,,,,,,`,
    );
  });

  it("adds quarter hours over systems, so that a day read in one weighs as a day and no more", async () => {
    const { id } = await world.stream("rays", "display", "temperature");
    await world.evaluated({ rollups: rollupsOf(id, MOVED, MOVED + DAY, () => 20) });
    const [temperature] = (await water()).quantities;
    const good = (MOVED - YEAR) / QUARTER_HOUR - 2 * 96;
    expect(temperature?.unread).toEqual([]);
    expect(temperature?.fits[0]?.fit).toMatchObject({
      scored: good + 96,
      share: (good - 26 * 96) / (good + 96),
      widestMiss: 6,
    });
  });
});

it("of a parted group tells both systems at once, and of one without profile or readings that there is nothing", async () => {
  world = await openHall(
    [
      stay("1", "wolf-eel", { animal: "bramble", count: 5, from: YEAR, to: MARCH, ended: "counted" }),
      stay("2", "wolf-eel", { animal: "bramble", count: 3, from: MARCH }),
      stay("3", "wolf-eel", { animal: "bramble", count: 2, system: "s-rays", from: MARCH }),
    ],
    [],
  );
  const view = animalWaterView.parse(await water());
  expect(view.visits.map(({ system, from, to }) => [system, from, to])).toEqual([
    ["kelp", YEAR, null],
    ["rays", MARCH, null],
  ]);
  expect(view.livesIn.map(({ system, count }) => [system, count])).toEqual([
    ["kelp", 3],
    ["rays", 2],
  ]);
  expect(view.quantities).toEqual([]);
  await world.dispose();
});

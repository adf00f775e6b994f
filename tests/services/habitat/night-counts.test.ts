import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { nightCountsView } from "#contract/night-counts.ts";
import { DAY, HOUR } from "#core/time/instant.ts";
import { recordBench } from "#services/bench/record-bench.ts";
import { readCalendar } from "#services/calendar/read-calendar.ts";
import { noteBreeding, openWatch } from "#services/habitat/breeding.ts";
import { readNightCounts, recordNightCount } from "#services/habitat/night-counts.ts";
import { readLiving } from "#services/habitat/read-living.ts";
import { moveAnimal } from "#services/habitat/residents.ts";
import { changeBand } from "#services/set-up/change-band.ts";
import { CURATOR, openHall, stay } from "../home-water/made.ts";
import { actorWith, type World } from "../world.ts";

const KEEPER = actorWith("aquarist", "keeper");
/** Hours of 20 November 2026 in London, where clocks are at UTC then. */
const clock = (hours: number) => Date.UTC(2026, 10, 20) + hours * HOUR;

let world: World;
let watch: string;
beforeEach(async () => {
  world = await openHall(
    [
      stay("ray", "ray", { name: "Tuppence", sex: "female" }),
      stay("males", "ray", { count: 2 }),
      stay("eggs", "ray", { count: 9, stage: "egg or larva" }),
      stay("eel", "eel"),
    ],
    [],
  );
  watch = (
    await openWatch(world.write, CURATOR, "kelp", {
      animal: "animal-ray",
      kind: "gestation",
      first: world.now - 340 * DAY,
      last: world.now - 340 * DAY,
      mayDelay: false,
      shortestDays: 330,
      longestDays: 360,
      source: "invented",
    })
  ).id;
});
afterEach(() => world.dispose());
const asked = async () => nightCountsView.parse(await readNightCounts(world.read)).counts;
const count = (counted: number, clientId: string, more: object = {}) =>
  recordNightCount(world.write, KEEPER, watch, { counted, clientId, ...more });

describe("a nightly count", () => {
  it("is asked from 18:00, due from 06:00, and done by one count until the next evening", async () => {
    world.now = clock(19);
    expect(await asked()).toMatchObject([
      {
        stand: "asked",
        who: "Tuppence, ray (adult)",
        onRecord: 3,
        count: null,
        night: clock(18),
        pool: null,
      },
    ]);
    world.now = clock(30);
    expect(await asked()).toMatchObject([{ stand: "due" }]);
    expect(await count(3, "one")).toMatchObject({
      repeated: false,
      count: { says: "3 counted, same as on record" },
    });
    expect(await asked()).toMatchObject([{ stand: "done", count: { counted: 3, by: "keeper" } }]);
    world.now = clock(42.5);
    expect(await asked()).toMatchObject([{ stand: "asked", night: clock(42), count: null }]);
  });
  it("is stored once, with one audit row and one entry in the logbook, and changes no residents where it is off", async () => {
    world.now = clock(23);
    const sent = { note: "guards checked" };
    const first = await count(5, "two", sent);
    expect(first.count.says).toBe(
      "5 counted, 3 on record: count again; if it still differs, record a birth, a death or a move",
    );
    expect(await world.store.readAudit({ limit: 1 })).toMatchObject([
      { verb: "record-night-count", actor: "keeper", subject: `breeding-watch:${watch}` },
    ]);
    const { rows } = await world.store.verifyAudit();
    world.now += HOUR;
    expect(await count(5, "two", sent)).toMatchObject({ id: first.id, count: first.count, repeated: true });
    expect((await world.store.verifyAudit()).rows).toBe(rows);
    const log = await world.store.readLog({ from: clock(22), to: clock(26), kinds: ["round"], limit: 9 });
    expect(log.map(({ versions }) => versions[0])).toMatchObject([
      {
        at: clock(23),
        amount: 5,
        text: expect.stringMatching(/^Night count.*5 counted, 3 on record.*guards checked$/),
      },
    ]);
    const dated = (await readCalendar(world.read, { month: "2026-11", system: "kelp" })).items;
    expect(dated.map(({ kind }) => kind)).toEqual(["watch"]);
    const { residents, watches } = await readLiving(world.read, "kelp");
    expect(residents.find(({ id }) => id === "males")?.count).toBe(2);
    expect(watches[0]?.events.map(({ says }) => says)).toEqual([
      expect.stringContaining("night count: 5 counted"),
    ]);
  });
  it("is refused before the window, once the watch has ended, for the future and for last week", async () => {
    world.now = clock(20);
    await expect(count(3, "late", { at: world.now - 3 * DAY })).rejects.toMatchObject({
      code: "invalid",
      issues: [{ field: "at", says: "is more than 36 hours ago" }],
    });
    await expect(count(3, "early", { at: world.now + HOUR })).rejects.toMatchObject({ code: "invalid" });
    await expect(count(-1, "less")).rejects.toMatchObject({
      code: "invalid",
      issues: [{ field: "counted" }],
    });
    await noteBreeding(world.write, CURATOR, watch, { kind: "outcome", outcome: "not pregnant" });
    world.now += HOUR;
    await expect(count(3, "after")).rejects.toMatchObject({ code: "conflict" });
    expect(await asked()).toEqual([]);
    const { id } = await openWatch(world.write, CURATOR, "kelp", {
      animal: "animal-ray",
      kind: "gestation",
      first: world.now,
      last: world.now,
      mayDelay: false,
      shortestDays: 330,
      longestDays: 360,
      source: "invented",
    });
    await expect(
      recordNightCount(world.write, KEEPER, id, { counted: 3, clientId: "before" }),
    ).rejects.toMatchObject({ code: "conflict", message: expect.stringContaining("outside its window") });
  });
  it("is asked where the animal is now", async () => {
    world.now = clock(20);
    await moveAnimal(world.write, CURATOR, "ray", { to: "rays", how: "moved" });
    world.now = clock(21);
    expect((await asked()).map(({ system, onRecord }) => [system, onRecord])).toEqual([["rays", 1]]);
  });
});

describe("the pool that waits for the young", () => {
  const tested = (quantity: string, value: string, at: number) =>
    recordBench(world.write, KEEPER, {
      clientId: `${quantity}-${value.replace("<", "less-")}-${at}`,
      system: "rays",
      point: "display",
      sampledAt: new Date(at).toISOString(),
      results: [{ quantity, value, unit: "mg/L" }],
    });
  const most = (quantity: string, high: number, low: number | null = null) =>
    changeBand(world.write, CURATOR, "rays", {
      quantity,
      months: [{ low, high, actionLow: null, actionHigh: high * 2, urgentLow: null, urgentHigh: null }],
      validFrom: new Date(world.now - 30 * DAY).toISOString(),
      reason: "for pups",
      source: "invented",
    });
  const reads = async (code: string, value: number, flag: 1 | 4 = 1) => {
    const { id } = await world.stream(code, "display", "temperature");
    await world.evaluated({
      current: [{ ...CURRENT, stream: id, value, flag, at: world.now, received: world.now }],
    });
  };
  const CURRENT = {
    reasons: [],
    low: null,
    high: null,
    deviation: null,
    band: null,
    rate: null,
    silentAt: null,
  };
  const pool = async () => {
    // Streams born by their first value are seen within a second.
    world.now += 2_000;
    return (await readLiving(world.read, "kelp")).watches[0]?.pool ?? null;
  };
  beforeEach(async () => {
    await noteBreeding(world.write, CURATOR, watch, { kind: "pup pool", system: "rays" });
    world.now += 1_000;
  });

  it("is not known to be cycled or warm until it was tested and read, and says what to do", async () => {
    expect(await pool()).toMatchObject({
      system: "rays",
      cycled: "not known",
      atTemperature: "not known",
      says: expect.arrayContaining([expect.stringMatching(/never been tested there: test it/)]),
    });
  });
  it("is cycled where both tests lie within its bands, for a week; at temperature beside the mother's", async () => {
    await most("total_ammonia", 0.1);
    await most("nitrite", 0.2);
    await most("temperature", 26, 24);
    await tested("total_ammonia", "0.05", world.now - HOUR);
    await tested("nitrite", "<0.1", world.now - HOUR);
    await reads("rays", 25);
    await reads("kelp", 24.4);
    const ready = await pool();
    expect(ready).toMatchObject({ cycled: "yes", atTemperature: "yes" });
    expect(ready?.says.join(" ")).toMatch(/Total ammonia .* mg\/L.*1 h ago: within its band, at most 0\.1/);
    expect(ready?.says.join(" ")).toMatch(/Temperature 25\.0 °C.*kelp 24\.4 °C, 0\.6 °C apart/);
    world.now += 8 * DAY;
    expect(await pool()).toMatchObject({ cycled: "not known" });
    await tested("total_ammonia", "0.3", world.now - HOUR);
    expect(await pool()).toMatchObject({ cycled: "no" });
  });
  it("is not proven by a test that is too coarse for its band, nor warm by a probe that failed", async () => {
    await most("total_ammonia", 0.1);
    await most("nitrite", 0.2);
    await most("temperature", 26, 24);
    await tested("total_ammonia", "0.05", world.now - HOUR);
    await tested("nitrite", "<0.5", world.now - HOUR);
    await reads("rays", 25, 4);
    expect(await pool()).toMatchObject({ cycled: "not known", atTemperature: "not known" });
    expect((await pool())?.says.join(" ")).toContain("not precise enough for its band");
    await reads("rays", 27);
    expect(await pool()).toMatchObject({ atTemperature: "no" });
    // Less than 0.5 is certainly less than 1.
    await most("nitrite", 2, 1);
    expect(await pool()).toMatchObject({ cycled: "no" });
  });
});

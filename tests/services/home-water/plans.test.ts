import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openClimatology } from "#climate/open.ts";
import { seasonProposalView } from "#contract/home-water-forms.ts";
import { DAY } from "#core/time/instant.ts";
import { noteBreeding, openWatch } from "#services/habitat/breeding.ts";
import {
  addHomeWaterSeries,
  adoptSeasonPlan,
  withdrawHomeWaterSeries,
} from "#services/home-water/home-water-plans.ts";
import { setLightPlan, withdrawLightPlan } from "#services/home-water/light-plans.ts";
import { readSeasonProposal } from "#services/home-water/propose-season.ts";
import { readHomeWater } from "#services/home-water/read-home-water.ts";
import { readLightPlans } from "#services/home-water/read-light-plans.ts";
import { readHomeOrNative } from "#services/home-water/read-native-water.ts";
import type { World } from "../world.ts";
import { CURATOR, entry, openHall, profile, rollupsOf, stay } from "./made.ts";

const CLIMATOLOGY = openClimatology();
/** San Diego by the climatology lies between 14.8 and 20.1. */
const SHEEPHEAD = profile("sheephead", [
  entry({ low: 13, high: 17.6, kind: "advice" }),
  entry({ low: 13.3, high: 19.9, kind: "ambient" }),
]);
const series = (value: number) => ({
  name: "Our shore station",
  latitude: 33.1,
  longitude: -117.3,
  quantity: "temperature",
  months: Array.from({ length: 12 }, () => ({ value, spread: 0.4 })),
  reason: "nearer than a box",
  source: "logger of the pier",
});

let world: World;
const season = (quantity: "temperature" | "day_length" = "temperature") =>
  readSeasonProposal({ ...world.read, climatology: CLIMATOLOGY }, "kelp", { quantity });

beforeEach(async () => {
  world = await openHall([stay("a", "sheephead", { count: 3 })], [SHEEPHEAD]);
  const stream = await world.stream("kelp", "display", "temperature");
  await world.evaluated({ rollups: rollupsOf(stream.id, world.now - 20 * DAY, world.now, () => 16.2) });
});
afterEach(() => world.dispose());

describe("a proposed season", () => {
  it("follows the sea off the residents' home from where the system stands, held by band and rate, and stores nothing", async () => {
    const before = await world.store.verifyAudit();
    const proposal = seasonProposalView.parse(await season());
    expect(proposal.home).toContain("sheephead: box at 33, -117");
    expect(proposal.setPoints).toHaveLength(53);
    const values = proposal.setPoints.map(([, value]) => value);
    expect(values[0]).toBeGreaterThan(16.2 - 0.71);
    // Source: COADS, box at 33 N 117 W, warmest 20.1 in August; the band ends at 17.6.
    expect(Math.max(...values)).toBe(17.6);
    expect(proposal.heldByBand).toBeGreaterThan(10);
    expect(proposal.waits).toBeNull();
    expect((await world.store.verifyAudit()).rows).toBe(before.rows);
  });
  it("follows daylight at the home latitude for light: 14.3 h at 33 degrees north in June", async () => {
    const { setPoints, unitLabel } = await season("day_length");
    expect(unitLabel).toBe("h");
    // Source: NOAA series, 15 June at 33 N: 14.3 h.
    expect(Math.max(...setPoints.map(([, value]) => value))).toBeCloseTo(14.2, 0);
  });
  it("waits for a compromise where residents disagree, and for coordinates where nobody's home is known", async () => {
    await world.dispose();
    world = await openHall(
      [stay("a", "sheephead"), stay("b", "eel")],
      [SHEEPHEAD, profile("eel", [entry({ low: 8, high: 12, kind: "advice" })])],
    );
    expect((await season()).waits).toContain("compromise");
    await world.dispose();
    world = await openHall(
      [stay("a", "sheephead")],
      [profile("sheephead", SHEEPHEAD.entries, { latitude: null })],
    );
    expect((await season()).waits).toContain("latitude and longitude");
  });
});

describe("an adopted season", () => {
  const plan = (from: number, values: readonly number[]) => ({
    quantity: "temperature",
    setPoints: values.map((value, i) => [from + i * 7 * DAY, value]),
    rate: 0.7,
    reason: "autumn as at home",
    source: "sheephead: box at 33, -117",
  });

  it("is judged against what the water does: behind a falling plan that it does not follow", async () => {
    await adoptSeasonPlan(world.write, CURATOR, "kelp", plan(world.now - 14 * DAY, [16.2, 15.7, 15.2, 14.7]));
    const view = await readHomeWater(world.read, "kelp");
    const adopted = view.quantities.find(({ quantity }) => quantity === "temperature")?.plan;
    expect(adopted).toMatchObject({ adoptedBy: "curator", reason: "autumn as at home" });
    // By hand: half a degree a week for some two weeks, while the water stood at 16.2.
    expect(adopted?.standing?.ahead?.units).toBeLessThan(-0.8);
    expect(adopted?.standing?.slope).toBeCloseTo(0, 9);
    expect(adopted?.standing?.plannedSlope).toBeCloseTo(-0.5 / 7, 2);
  });
  it("ends the plan before it, which stays readable, with one audit row", async () => {
    await adoptSeasonPlan(world.write, CURATOR, "kelp", plan(world.now, [16.2, 16]));
    world.now += 1_000;
    await adoptSeasonPlan(world.write, CURATOR, "kelp", plan(world.now, [16.2, 16.1]));
    const { seasonPlans } = await world.store.readHabitat();
    expect(seasonPlans.map(({ validTo }) => validTo)).toEqual([world.now, null]);
    expect(await world.store.readAudit({ limit: 1 })).toMatchObject([
      { verb: "adopt-season-plan", actor: "curator" },
    ]);
  });
  it("is refused by set-point where it runs faster than its rate", async () => {
    await expect(
      adoptSeasonPlan(world.write, CURATOR, "kelp", plan(world.now, [16.2, 14])),
    ).rejects.toMatchObject({
      code: "invalid",
      issues: [{ field: "setPoints", says: "set-point 2 changes by 2.20 a week, more than 0.7" }],
    });
  });
});

describe("a season while a birth is awaited", () => {
  const awaited = () =>
    openWatch(world.write, CURATOR, "kelp", {
      animal: "animal-a",
      kind: "gestation",
      first: world.now - 230 * DAY,
      last: world.now - 230 * DAY,
      mayDelay: false,
      shortestDays: 240,
      longestDays: 260,
      source: "invented",
    });
  const plan = (values: readonly number[], more: object = {}) =>
    adoptSeasonPlan(world.write, CURATOR, "kelp", {
      quantity: "temperature",
      setPoints: values.map((value, i) => [world.now + i * 7 * DAY, value]),
      rate: 0.7,
      reason: "autumn as at home",
      source: "sheephead: box at 33, -117",
      ...more,
    });

  it("says in which watch the proposal ramps, up to the late edge of the window and no further", async () => {
    expect((await season()).watched).toEqual([]);
    const { id } = await awaited();
    const { watched, setPoints } = seasonProposalView.parse(await season());
    const [earliest, latest] = [world.now + 10 * DAY, world.now + 30 * DAY];
    expect(watched).toMatchObject([
      { watch: id, who: "3 sheephead (adult)", kind: "gestation", earliest, latest },
    ]);
    // By hand: the weeks that touch the window and change by 0.05 or more.
    const steps = setPoints.slice(1).filter(([to, value], i) => {
      const [from, before] = setPoints[i] ?? [0, 0];
      return from < latest && to > earliest && Math.abs(value - before) >= 0.05;
    });
    expect(steps.length).toBeGreaterThan(1);
    expect(watched[0]?.steps).toBe(steps.length);
    await noteBreeding(world.write, CURATOR, id, { kind: "outcome", outcome: "not pregnant" });
    expect((await season()).watched).toEqual([]);
  });
  it("is adopted only by who says that they know of the watch, and goes on saying so where it is shown", async () => {
    const { id } = await awaited();
    await expect(plan([16.2, 15.8, 15.4, 15])).rejects.toMatchObject({
      code: "invalid",
      issues: [
        {
          field: "despiteWatch",
          says: "2 steps ramp while a birth of 3 sheephead (adult) is awaited",
          remedy: "hold the set-points level in its window, or confirm that you know of the watch",
        },
      ],
    });
    await plan([16.2, 15.8, 15.8, 15.8]);
    world.now += 1_000;
    await plan([16.2, 15.8, 15.4, 15], { despiteWatch: true });
    expect(await world.store.readAudit({ limit: 1 })).toMatchObject([{ verb: "adopt-season-plan" }]);
    const adopted = (await readHomeWater(world.read, "kelp")).quantities[0]?.plan;
    expect(adopted?.watched).toMatchObject([{ watch: id, steps: 2, most: expect.closeTo(-0.4, 9) }]);
  });
});

describe("a series of one's own", () => {
  it("comes before the climatology near it, names itself, and counts no longer once withdrawn", async () => {
    const asked = { latitude: 33, longitude: -117 };
    const deps = { climatology: CLIMATOLOGY, store: world.store };
    const { id } = await addHomeWaterSeries(world.write, CURATOR, series(17));
    const own = await readHomeOrNative(deps, asked);
    expect(own.temperature).toEqual(Array.from({ length: 12 }, () => 17));
    expect(own).toMatchObject({
      box: { latitude: 33.1, longitude: -117.3 },
      spread: Array.from({ length: 12 }, () => 0.4),
    });
    expect(own.source.temperature).toContain("Our shore station, loaded by curator: logger of the pier");
    expect((await season()).home).toContain("Our shore station");
    expect((await readHomeOrNative(deps, { latitude: 49, longitude: -5 })).box).toEqual({
      latitude: 49,
      longitude: -5,
    });
    await withdrawHomeWaterSeries(world.write, CURATOR, id);
    expect((await readHomeOrNative(deps, asked)).box).toEqual({ latitude: 33, longitude: -117 });
    await expect(withdrawHomeWaterSeries(world.write, CURATOR, id)).rejects.toMatchObject({
      code: "not_found",
    });
  });
});

describe("a light schedule", () => {
  it("takes over from the one before at its own instant, and is refused at the field where it is nonsense", async () => {
    const plan = { hours: [11], middle: "13:00", latitude: 33, reason: "as at home", source: "computed" };
    await setLightPlan(world.write, CURATOR, "kelp", { ...plan, validFrom: world.now - 9 * DAY });
    await setLightPlan(world.write, CURATOR, "kelp", {
      ...plan,
      hours: Array(12).fill(12),
      validFrom: world.now,
    });
    const { lightPlans } = await world.store.readHabitat();
    const spans = lightPlans.map(({ validFrom, validTo }) => [validFrom, validTo]);
    expect(spans.sort(([a], [b]) => Number(a) - Number(b))).toEqual([
      [world.now - 9 * DAY, world.now],
      [world.now, null],
    ]);
    const wrong = setLightPlan(world.write, CURATOR, "kelp", { ...plan, hours: [11, 12], middle: "25:00" });
    await expect(wrong).rejects.toMatchObject({
      code: "invalid",
      issues: [{ field: "hours" }, { field: "middle" }],
    });
  });

  it("stands in the logbook and the audit trail, is told with today's times and the residents' latitudes, and withdrawn it lets the one before go on", async () => {
    const plan = { hours: [11], middle: "13:00", latitude: 33, reason: "as at home", source: "computed" };
    await setLightPlan(world.write, CURATOR, "kelp", { ...plan, validFrom: world.now - 9 * DAY });
    world.now += 1_000;
    const { id } = await setLightPlan(world.write, CURATOR, "kelp", {
      ...plan,
      hours: [10],
      shiftDays: 182,
      validFrom: world.now - 2 * DAY,
      reason: "the other way round",
    });
    expect(await world.store.readAudit({ limit: 1 })).toMatchObject([
      { verb: "set-light-plan", actor: "curator", subject: `light-plan:${id}` },
    ]);
    const [entry] = await world.store.readLog({ from: world.now - 3 * DAY, to: world.now, limit: 1 });
    expect(entry?.versions).toMatchObject([
      { kind: "lights-change", at: world.now - 2 * DAY, by: "curator" },
    ]);
    expect(entry?.versions[0]?.text).toMatch(
      /^Light schedule from \d+ Nov 2026 12:00: 10 h a day, centred on 13:00, following 33 degrees north, 182 days ahead\./,
    );
    const view = await readLightPlans(world.read, "kelp");
    expect(view.plans.map(({ stand, hours }) => [stand, hours])).toEqual([
      ["in force", [10]],
      ["over", [11]],
    ]);
    // By hand: ten hours about 13:00 begin at 08:00 by the site's clock.
    expect((view.today?.to ?? 0) - (view.today?.from ?? 0)).toBe(10 * 3_600_000);
    expect(view.homes).toEqual([{ species: "sheephead", latitude: 33 }]);
    await withdrawLightPlan(world.write, CURATOR, id, { reason: "wrong system" });
    const after = await readLightPlans(world.read, "kelp");
    expect(after.plans.map(({ stand, to }) => [stand, to])).toEqual([
      ["void", world.now - 2 * DAY],
      ["in force", null],
    ]);
    await expect(withdrawLightPlan(world.write, CURATOR, id, { reason: "again" })).rejects.toMatchObject({
      code: "conflict",
    });
    await expect(
      setLightPlan(world.write, CURATOR, "kelp", { ...plan, validFrom: world.now + 400 * DAY }),
    ).rejects.toMatchObject({ code: "invalid", issues: [{ field: "validFrom" }] });
  });
});

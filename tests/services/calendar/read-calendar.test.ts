import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { calendarView } from "#contract/calendar.ts";
import { DAY, HOUR } from "#core/time/instant.ts";
import { readCalendar } from "#services/calendar/read-calendar.ts";
import { noteBreeding, openWatch, recordBirth } from "#services/habitat/breeding.ts";
import { changeStage, moveAnimal } from "#services/habitat/residents.ts";
import { adoptSeasonPlan } from "#services/home-water/home-water-plans.ts";
import { setLightPlan } from "#services/home-water/light-plans.ts";
import { writeLog } from "#services/logbook/write-log.ts";
import { recordCalibration } from "#services/probes/record-calibration.ts";
import { createScope } from "#services/scope.ts";
import { CURATOR, openHall, profile, stay } from "../home-water/made.ts";
import { actorWith, type World } from "../world.ts";

/** The hall's noon of 20 November 2026 in London. */
let world: World;
beforeEach(async () => {
  world = await openHall([stay("ray", "ray", { name: "Tuppence", sex: "female" })], [profile("ray", [])]);
});
afterEach(() => world.dispose());

const month = async (text?: string, system?: string) =>
  calendarView.parse(
    await readCalendar(world.read, {
      ...(text === undefined ? {} : { month: text }),
      ...(system === undefined ? {} : { system }),
    }),
  );
const watched = (more: object = {}) =>
  openWatch(world.write, CURATOR, "kelp", {
    animal: "animal-ray",
    kind: "gestation",
    first: world.now - 355 * DAY,
    last: world.now - 345 * DAY,
    mayDelay: false,
    shortestDays: 330,
    longestDays: 365,
    source: "invented",
    ...more,
  });
const watchesOf = async (text: string) => (await month(text)).items.filter(({ kind }) => kind === "watch");

describe("the days of a month", () => {
  it("are the site's own: 25 hours on the last Sunday of October, 23 on that of March, and 28 in February", async () => {
    // Source: European summer time, Directive 2000/84/EC: last Sundays of March and October at 01:00 UTC.
    const october = await month("2026-10");
    expect(october.days).toHaveLength(31);
    expect(october.days.filter(({ hours }) => hours !== 24)).toMatchObject([
      { date: "2026-10-25", hours: 25, weekday: 7 },
    ]);
    expect((await month("2026-03")).days.filter(({ hours }) => hours !== 24)).toMatchObject([
      { date: "2026-03-29", hours: 23, weekday: 7 },
    ]);
    expect(await month("2027-02")).toMatchObject({ before: "2027-01", after: "2027-03" });
    expect((await month("2027-02")).days).toHaveLength(28);
    expect(await month()).toMatchObject({
      month: "2026-11",
      today: "2026-11-20",
      zone: "Europe/London",
      items: [],
    });
  });
  it("hold what happened by the site's clock: 23:30 of summer time is that day, though it is the next one nowhere but in UTC plus one", async () => {
    const at = Date.UTC(2026, 9, 24, 22, 30);
    for (const [i, when] of [at, at + HOUR, at + 25.5 * HOUR, at + 26 * HOUR].entries())
      await writeLog(world.write, CURATOR, {
        clientId: `outage-${i}`,
        kind: "outage",
        systems: ["kelp"],
        at: new Date(when).toISOString(),
        text: `mains ${i}`,
      });
    // By hand: midnight of 25 October is 23:00 UTC of the 24th, the next one 00:00 UTC of the 26th.
    const { items } = await month("2026-10");
    expect(items.map(({ fromDate, stand }) => [fromDate, stand])).toEqual([
      ["2026-10-24", "done"],
      ["2026-10-25", "done"],
      ["2026-10-26", "done"],
      ["2026-10-26", "done"],
    ]);
  });
});

describe("a breeding watch", () => {
  it("lasts from first + shortest to last + longest, in every month that it touches and no other", async () => {
    await watched();
    // By hand: 355 - 330 = 25 days before 20 November is 26 October; 365 - 345 = 20 days after it is 10 December, at noon.
    const [item] = await watchesOf("2026-11");
    expect(item).toMatchObject({
      fromDate: "2026-10-26",
      toDate: "2026-12-10",
      open: false,
      stand: "going on",
      system: "kelp",
      says: "Tuppence, ray (adult): birth expected, from 26 Oct 2026 to 10 Dec 2026",
    });
    const months = ["2026-09", "2026-10", "2026-12", "2027-01"];
    expect(await Promise.all(months.map(async (text) => (await watchesOf(text)).length))).toEqual([
      0, 1, 1, 0,
    ]);
  });
  it("is open where an edge is, goes on while overdue, follows its animal, and ends with its outcome", async () => {
    await watched({ mayDelay: true });
    expect(await watchesOf("2030-01")).toMatchObject([
      { open: true, toDate: null, says: expect.stringContaining("no latest date: storage possible") },
    ]);
    await world.dispose();
    world = await openHall([stay("ray", "ray", { name: "Tuppence" })], []);
    const { id } = await watched({ first: null });
    expect(await watchesOf("2026-11")).toMatchObject([
      { fromDate: null, toDate: "2026-12-10", says: expect.stringContaining("first day not known") },
    ]);
    world.now += 30 * DAY;
    expect(await watchesOf("2027-02")).toMatchObject([{ open: true, stand: "overdue" }]);
    await moveAnimal(world.write, CURATOR, "ray", { to: "rays", how: "moved" });
    expect((await watchesOf("2027-01")).map(({ system }) => system)).toEqual(["rays"]);
    world.now += DAY;
    await noteBreeding(world.write, CURATOR, id, { kind: "outcome", outcome: "not pregnant" });
    expect(await watchesOf("2027-01")).toEqual([]);
    const december = await month("2026-12");
    expect(december.items.filter(({ kind }) => kind === "breeding")).toMatchObject([
      { fromDate: "2026-12-21", says: expect.stringContaining("not pregnant"), stand: "done" },
    ]);
    expect(december.items.filter(({ kind }) => kind === "move")).toMatchObject([
      { system: "rays", says: expect.stringContaining("moves here"), stand: "done" },
    ]);
  });
});

it("has stages recorded and dated ahead, births, set-points of the plan that holds, light schedules, calibrations due and declared work", async () => {
  await changeStage(world.write, CURATOR, "ray", { stage: "gestating", at: world.now + 3 * DAY });
  await recordBirth(world.write, CURATOR, "kelp", { species: "ray", live: 2, at: world.now - DAY });
  const season = (values: readonly number[]) =>
    adoptSeasonPlan(world.write, CURATOR, "kelp", {
      quantity: "temperature",
      setPoints: values.map((value, i) => [world.now + (i * 7 + 1) * DAY, value]),
      rate: 2,
      reason: "winter",
      source: "invented",
    });
  await season([9, 9, 9]);
  world.now += 1_000;
  await season([16, 15.5, 15]);
  await setLightPlan(world.write, CURATOR, "kelp", {
    hours: [9],
    middle: "12:30",
    latitude: null,
    validFrom: world.now + 6 * DAY,
    reason: "winter",
    source: "invented",
  });
  const ph = await world.stream("kelp", "display", "ph");
  const orp = await world.stream("kelp", "display", "orp");
  const calibrated = (stream: number, days: number) =>
    recordCalibration(world.write, CURATOR, stream, {
      clientId: `calibration-${stream}`,
      kind: "calibration",
      at: new Date(world.now - days * DAY).toISOString(),
      standards: [{ value: 7, read: 7.02 }],
    });
  await calibrated(ph.id, 2);
  // A round of one day is one line of the system.
  await calibrated((await world.stream("kelp", "sump", "ph")).id, 2);
  await calibrated(orp.id, 40);
  await writeLog(world.write, CURATOR, {
    clientId: "work",
    kind: "out-of-service",
    systems: ["kelp"],
    at: new Date(world.now - 40 * DAY).toISOString(),
    open: true,
    expected: new Date(world.now + 5 * DAY).toISOString(),
    point: "sump",
    text: "skimmer away",
  });
  const { items } = await month("2026-11", "kelp");
  const told = (kind: string) =>
    items.filter((item) => item.kind === kind).map(({ says, fromDate, stand }) => [says, fromDate, stand]);
  expect(told("stage")).toEqual([
    ["Tuppence, ray (gestating): adult to gestating", "2026-11-23", "expected"],
  ]);
  expect(told("birth")).toEqual([["2 found alive", "2026-11-19", "done"]]);
  expect(told("set-point")).toEqual([
    ["Temperature to 16.0 °C, adopted by curator", "2026-11-21", "planned"],
    ["Temperature to 15.5 °C, adopted by curator", "2026-11-28", "planned"],
  ]);
  expect(told("light")).toEqual([["Light schedule: 9 h a day, centred on 12:30", "2026-11-26", "planned"]]);
  // Common practice, no source: pH weekly, redox monthly.
  expect(told("calibration")).toEqual([
    ["ORP calibration overdue", "2026-11-10", "overdue"],
    ["pH calibrated", "2026-11-18", "done"],
    ["pH calibration due", "2026-11-25", "due"],
  ]);
  const [work] = items.filter(({ kind }) => kind === "work");
  expect(work).toMatchObject({
    says: "Out of service: skimmer away",
    fromDate: "2026-10-11",
    toDate: "2026-11-25",
    stand: "going on",
  });
  expect((await month("2026-11", "rays")).items).toEqual([]);
});

it("shows each reader the systems of their grants alone, and refuses a system that is none", async () => {
  await watched();
  const narrow = createScope(world.read)({
    ...actorWith("viewer", "x"),
    grants: [{ role: "viewer", site: null, system: "s-rays" }],
  });
  const view = await readCalendar(narrow, { month: "2026-11" });
  expect(view.systems).toEqual([{ system: "rays", name: "rays" }]);
  expect(view.items).toEqual([]);
  await expect(readCalendar(narrow, { system: "kelp" })).rejects.toMatchObject({ code: "not_found" });
});

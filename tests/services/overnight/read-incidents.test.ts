import { afterEach, beforeEach, expect, test } from "vitest";
import { incidentsView } from "#contract/incidents.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { writeLog } from "#services/logbook/write-log.ts";
import { readIncidents } from "#services/overnight/read-incidents.ts";
import type { RollupRow, Stream } from "#store/port.ts";
import { current, finding, KEEPER, NOW, openWorld, rollup, system, type World } from "../world.ts";

const QUARTER = 15 * MINUTE;
const ONSET = NOW - 2 * HOUR;

let world: World;
let flow: Stream;
let oxygen: Stream;
let pump: Stream;
beforeEach(async () => {
  world = await openWorld([system("kelp", { volume: 210 }), system("reef")]);
  flow = await world.stream("kelp", "display", "flow");
  oxygen = await world.stream("kelp", "display", "dissolved_oxygen");
  pump = await world.stream("kelp", "sump", "pump", "equipment");
});
afterEach(() => world.dispose());

/** Quarter-hour means over the last nine hours. */
const course = (stream: Stream, value: (hoursSinceOnset: number) => number): RollupRow[] =>
  Array.from({ length: 36 }, (_, i) => {
    const start = NOW - (NOW % QUARTER) - (36 - i) * QUARTER;
    return rollup(stream, QUARTER, start, [value((start + QUARTER / 2 - ONSET) / HOUR)]);
  });

async function trip(): Promise<void> {
  await world.evaluated({
    rollups: [
      ...course(flow, (h) => (h < 0 ? 195 : 65)),
      ...course(oxygen, (h) => 8 - 0.21 * Math.max(0, h)),
    ],
    current: [
      current(flow, 65),
      current(oxygen, 7.58, {
        rate: -0.21,
        band: { low: 7.4, high: null, actionLow: 6.95, actionHigh: null, urgentLow: null, urgentHigh: null },
      }),
      current(pump, 3),
    ],
    findings: [
      finding(flow, { id: "flow", rule: "low", severity: "action", began: ONSET }),
      finding(pump, {
        id: "pump",
        kind: "wrong state",
        rule: "tripped",
        began: ONSET,
        evidence: { word: "tripped" },
      }),
      finding(oxygen, { id: "oxygen", kind: "too fast", rule: "falling", began: ONSET + 10 * MINUTE }),
    ],
  });
}

test("findings that began together are one incident with its cause, its grounds and what oxygen is left", async () => {
  await trip();
  const view = incidentsView.parse(await readIncidents(world.read, {}));
  expect(view.incidents).toHaveLength(1);
  const [incident] = view.incidents;
  expect(incident?.members.map((member) => member.finding)).toEqual(["pump", "flow", "oxygen"]);
  expect(incident?.causes[0]).toMatchObject({ id: "pump-stopped", isFailure: true });
  expect(incident?.causes[0]?.for).toContain("a pump reports that it is not running");
  expect(incident?.causes[0]?.notMeasured).toContain("sump level rises");
  expect(incident?.causes[0]?.caution).toMatch(/supply/);
  // (7.58 - 6.95) mg/L at 0.21 mg/L an hour.
  expect(incident?.estimates[0]?.says).toMatch(/about 3\.0 h until oxygen reaches 6\.95 mg\/L/);
  expect(incident?.estimates[0]?.assumes).toMatch(/44 g of oxygen an hour/);
});

test("a logged backwash is told as what it is, beside the findings, and hides none of them", async () => {
  await trip();
  await world.evaluated({
    current: [current(pump, 0)],
    findings: [
      finding(pump, {
        id: "pump",
        kind: "wrong state",
        rule: "stopped",
        began: ONSET,
        ended: ONSET + MINUTE,
      }),
    ],
  });
  await writeLog({ ...world.write, clock: () => ONSET + MINUTE }, KEEPER, {
    clientId: "b",
    kind: "backwash",
    systems: ["kelp"],
    at: new Date(ONSET - MINUTE).toISOString(),
    open: true,
    text: "three filters",
  });
  const [incident] = (await readIncidents(world.read, {})).incidents;
  expect(incident?.members).toHaveLength(3);
  expect(incident?.changed).toMatchObject([{ says: "Backwash: three filters" }]);
  expect(incident?.causes.map((cause) => cause.id)).toContain("backwash");
  const pumpCause = incident?.causes.find((cause) => cause.id === "pump-stopped");
  expect(pumpCause?.against ?? ["a backwash was logged"]).toContain("a backwash was logged");
});

test("only a system's own incidents are read where it is named, and an old one is left out", async () => {
  await trip();
  const reef = await world.stream("reef", "display", "temperature");
  await world.evaluated({
    current: [current(reef, 26)],
    findings: [
      finding(reef, { id: "new", began: NOW - 3 * HOUR }),
      finding(reef, { id: "old", began: NOW - 5 * DAY, ended: NOW - 4 * DAY }),
    ],
  });
  const of = async (name: string) =>
    (await readIncidents(world.read, { system: name })).incidents.flatMap((row) =>
      row.members.map((member) => member.finding),
    );
  expect(await of("reef")).toEqual(["new"]);
  expect(await of("kelp")).toEqual(["pump", "flow", "oxygen"]);
  await expect(readIncidents(world.read, { system: "atlantis" })).rejects.toMatchObject({
    code: "not_found",
  });
});

/**
 * The demo's fourteen days under a fixed clock (D1 is Monday 19 October 2026, Europe/London, so D7 has 25 hours), accepted minute by minute
 * and judged by the real evaluator over a real store. What must be found and when is the invented scenario's own story.
 */
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { loadDays } from "#ingest/demo/load-days.ts";
import { writeSetUp } from "#ingest/demo/write-set-up.ts";
import { openClock, type ScenarioClock } from "#ingest/scenario/clock.ts";
import { openScenario } from "#ingest/scenario/load.ts";
import type { ReadDeps } from "#services/deps.ts";
import { uuidV7 } from "#services/new-id.ts";
import { createAheadReader } from "#services/overnight/ahead.ts";
import { readIncidents } from "#services/overnight/read-incidents.ts";
import { readOvernight } from "#services/overnight/read-overnight.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { createSweepReader } from "#services/systems/sweep.ts";
import type { Alarm, Finding, Severity, Stream } from "#store/port.ts";
import { evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { type TemporaryStore, temporaryStore } from "#tests/helpers/open-store.ts";
import { anchorOn } from "../scenario/pennacombe.ts";

const MINUTE = 60_000;
const scenario = openScenario(join(import.meta.dirname, "../../../fixtures/pennacombe"));
const anchor = anchorOn("2026-10-19", scenario.site.zone);

let temporary: TemporaryStore;
let clock: ScenarioClock;
let findings: readonly Finding[];
let alarms: readonly Alarm[];
let streams: ReadonlyMap<number, Stream>;

beforeAll(async () => {
  temporary = await temporaryStore();
  const { store } = temporary;
  clock = openClock(scenario.site.zone, anchor);
  const ids = await writeSetUp(store, scenario, anchor, anchor);
  const source = await store.ensureSource("gateway", "gateway");
  await loadDays({
    store,
    scenario,
    anchor,
    from: anchor,
    to: clock.instantOf("D15 00:00"),
    streams: ids,
    writing: { setUp: createSetUpReader(store, Date.now), newId: uuidV7 },
    source: source.id,
    progress: () => undefined,
    stopped: () => false,
  });
  await evaluateAll(await evaluatorOf(store));
  findings = await store.readFindings({ limit: 100_000 });
  alarms = await store.readAlarms({ limit: 100_000 });
  streams = new Map((await store.readSetUp()).streams.map((stream) => [stream.id, stream]));
}, 900_000);
afterAll(() => temporary.dispose());

const nameOf = (row: { readonly stream: number; readonly system: string }) =>
  `${row.system.replace("system-", "")}/${streams.get(row.stream)?.pointCode}/${streams.get(row.stream)?.quantity}`;

function found(name: string, kind: Finding["kind"], from: string, to: string): Finding | undefined {
  return findings.find(
    (finding) =>
      nameOf(finding) === name &&
      finding.kind === kind &&
      finding.raised >= clock.instantOf(from) &&
      finding.raised <= clock.instantOf(to),
  );
}
const alarmOf = (finding: Finding | undefined) => alarms.find((alarm) => alarm.finding === finding?.id);

describe("each day's trouble is found in time", () => {
  test.each<[string, Finding["kind"], Severity, string, string]>([
    ["mangrove-walk/display/salinity", "too fast", "action", "D3 22:10", "D4 03:30"],
    ["kelp-gallery/display/flow", "out of band", "action", "D4 01:38", "D4 01:39"],
    ["kelp-gallery/pump-2/pump", "wrong state", "action", "D4 01:38", "D4 01:39"],
    ["kelp-gallery/pump-3/pump", "wrong state", "action", "D4 01:38", "D4 01:39"],
    ["kelp-gallery/display/oxygen_saturation", "out of band", "look", "D4 03:00", "D4 05:52"],
    ["reef-lagoon/display/alkalinity", "out of band", "look", "D5 08:00", "D5 12:00"],
    ["reef-lagoon/display/alkalinity", "drifting", "look", "D5 08:00", "D5 12:00"],
    ["kelp-gallery/display/illuminance", "light off", "action", "D7 12:00", "D7 20:00"],
    ["cold-den/display/ph", "drifting", "look", "D7 00:00", "D9 14:00"],
    ["cold-den/display/ph", "out of band", "look", "D5 00:00", "D9 14:00"],
    ["quarantine-2/display/copper", "out of band", "look", "D8 13:00", "D8 20:00"],
    ["quarantine-2/display/total_ammonia", "out of band", "action", "D8 08:00", "D11 12:00"],
    ["reef-lagoon/display/temperature", "too fast", "action", "D9 19:00", "D9 22:00"],
    ["kelp-gallery/contact-chamber/orp", "drifting", "look", "D10 03:00", "D10 05:32"],
    ["kelp-gallery/display/orp", "drifting", "look", "D10 03:00", "D10 05:32"],
    ["kelp-gallery/display/orp", "out of band", "urgent", "D10 03:30", "D10 05:32"],
    ["pup-pool/display/temperature", "too fast", "action", "D11 20:15", "D11 20:33"],
    ["jelly-ring/display/total_gas_pressure", "out of band", "urgent", "D12 16:33", "D12 16:56"],
    ["rift-terrace/display/temperature", "stuck", "action", "D13 13:30", "D13 20:30"],
  ])("%s %s (%s) between its hours", (name, kind, severity, from, to) => {
    const finding = found(name, kind, from, to);
    expect(finding, `nothing found between ${from} and ${to}`).toBeDefined();
    expect(finding?.severity).toBe(severity);
    expect(finding?.late).toBe(false);
  });

  test("what interrupts has rung, with a transition that says when and against which limit", async () => {
    const flow = found("kelp-gallery/display/flow", "out of band", "D4 01:38", "D4 01:39");
    const alarm = alarmOf(flow);
    expect(alarm).toBeDefined();
    expect(alarm?.raised).toBeLessThanOrEqual(clock.instantOf("D4 01:41"));
    const [first] = await temporary.store.readTransitions(alarm?.id ?? "");
    expect(first).toMatchObject({ from: "NORMAL", to: "UNACK", limit: 97.5 });
  });

  test("the oxygen of the kelp gallery never reaches its action limit: pump and flow carry the alarm", () => {
    const oxygen = alarms.filter((alarm) => nameOf(alarm) === "kelp-gallery/display/oxygen_saturation");
    expect(oxygen).toEqual([]);
  });
});

test("a block that came three hours late is stored at its own time, moves no alarm, and ends the silence", () => {
  const meter = findings.filter((finding) => nameOf(finding) === "river-giants/make-up/make_up_volume");
  expect(meter.map((finding) => finding.kind)).toEqual(["silent"]);
  expect(meter[0]?.ended).toBeLessThanOrEqual(clock.instantOf("D5 12:10"));
});

test("the light of the kelp gallery is one finding, an hour early since the clock change, and nobody else's light is off", () => {
  const light = findings.filter((finding) => finding.kind === "light off");
  expect(light.map((finding) => `${nameOf(finding)} ${finding.rule}`)).toEqual([
    "kelp-gallery/display/illuminance clock",
  ]);
  expect(light[0]?.evidence).toMatchObject({ change: clock.instantOf("D7 00:00") });
  expect(light[0]?.ended).toBeGreaterThan(clock.instantOf("D9 12:00"));
  expect(light[0]?.ended).toBeLessThan(clock.instantOf("D9 20:00"));
});

describe("the birth explains Ray Lagoon's D9", () => {
  const asOf = (mark: string): ReadDeps => {
    const { store } = temporary;
    const now = () => clock.instantOf(mark);
    return {
      store,
      clock: now,
      setUp: createSetUpReader(store, now),
      sweep: createSweepReader(store),
      ahead: createAheadReader(store),
      seesAll: true,
    };
  };

  test("five animals where four were counted want a look and call nobody; what the logbook says is the likeliest cause", async () => {
    const finding = found("ray-lagoon/display/animal_count", "stepped", "D9 06:50", "D9 06:50");
    expect(finding).toMatchObject({ severity: "look", rule: "more", evidence: { from: 4, to: 5 } });
    expect(alarmOf(finding)).toBeUndefined();
    const { incidents } = await readIncidents(asOf("D9 07:30"), { system: "ray-lagoon" });
    const incident = incidents.find((each) => each.members.some((one) => one.finding === finding?.id));
    expect(incident?.members.map((one) => one.says)).toEqual([
      "Animals counted: 5, 1 more than the previous count, 06:50",
    ]);
    expect(incident?.causes[0]).toMatchObject({ id: "birth", isFailure: false, against: [] });
    expect(incident?.causes[0]?.for).toEqual(["a birth or hatch was logged", "more animals were counted"]);
    expect(incident?.changed).toEqual([
      {
        at: clock.instantOf("D9 06:50"),
        says: expect.stringMatching(/^Birth or hatch: Counted 5: "Tuppence" slack/),
      },
    ]);
  });

  test("and Overnight tells it with nothing else of that lagoon", async () => {
    const night = await readOvernight(asOf("D9 07:30"), {});
    const own = night.findings.filter((each) => each.system === "ray-lagoon");
    expect(own.map((each) => [each.quantity, each.kind, each.alarm])).toEqual([
      ["animal_count", "stepped", null],
    ]);
    expect(night.groups.flatMap(({ items }) => items.map((item) => item.finding))).toContain(own[0]?.id);
  });

  test("the pup's move explains that they are four again at noon", async () => {
    const { incidents } = await readIncidents(asOf("D9 13:00"), { system: "ray-lagoon" });
    const fewer = incidents.find((each) => each.began === clock.instantOf("D9 12:00"));
    expect(fewer?.causes.map((cause) => cause.id)).toEqual(["animals-moved"]);
    const counts = findings.filter((each) => nameOf(each) === "ray-lagoon/display/animal_count");
    expect(counts.map((each) => [each.rule, each.ended])).toEqual([
      ["fewer", clock.instantOf("D10 07:05")],
      ["more", clock.instantOf("D9 12:00")],
    ]);
  });
});

test("systems that had quiet days interrupt nobody", () => {
  const quiet = ["blackwater-creek", "river-giants", "ray-lagoon"];
  const rang = alarms.filter((alarm) => quiet.includes(alarm.system.replace("system-", "")));
  expect(
    rang.map((alarm) => `${nameOf(alarm)} ${alarm.kind} ${new Date(alarm.raised).toISOString()}`),
  ).toEqual([]);
});

/** What happened where, and until when somebody had to do with it: the scenario's own story. */
const TROUBLE: readonly (readonly [system: string, from: string, to: string])[] = [
  ["mangrove-walk", "D3 21:00", "D6 06:00"],
  ["kelp-gallery", "D4 01:30", "D4 12:00"],
  ["kelp-gallery", "D7 12:00", "D9 20:00"],
  ["quarantine-2", "D8 08:00", "D15 00:00"],
  ["cold-den", "D5 00:00", "D9 16:00"],
  ["reef-lagoon", "D9 18:00", "D11 08:00"],
  ["kelp-gallery", "D10 02:00", "D10 16:00"],
  ["pup-pool", "D11 19:00", "D12 00:00"],
  ["giants-pool", "D11 10:00", "D11 20:00"],
  ["jelly-ring", "D12 16:00", "D13 00:00"],
  ["rift-terrace", "D13 13:00", "D13 21:00"],
];

test("outside its troubles the whole site is called at most once a week", () => {
  const ordinary = alarms.filter(
    (alarm) =>
      !TROUBLE.some(
        ([system, from, to]) =>
          alarm.system === `system-${system}` &&
          alarm.raised >= clock.instantOf(from) &&
          alarm.raised <= clock.instantOf(to),
      ),
  );
  const named = ordinary.map((each) => `${nameOf(each)} ${each.kind} ${new Date(each.raised).toISOString()}`);
  expect(named.length, named.join("; ")).toBeLessThanOrEqual(2);
});

test("the night that has 25 hours: its site day counts every reading", async () => {
  const stream = [...streams.values()].find(
    (each) =>
      each.pointCode === "display" &&
      each.quantity === "temperature" &&
      each.system === "system-kelp-gallery",
  );
  const [day] = await temporary.store.readRollups({
    streams: [stream?.id ?? -1],
    from: clock.instantOf("D7 00:00"),
    to: clock.instantOf("D7 12:00"),
    width: 1440 * MINUTE,
  });
  expect(day).toMatchObject({ start: clock.instantOf("D7 00:00"), n: 25 * 12 });
});

/** The files of the scenario hold together, and a broken folder says what is wrong. */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, describe, expect, test } from "vitest";
import { type BandEdges, faultsOf } from "#core/habitat/index.ts";
import { DAY } from "#core/time/index.ts";
import { convertible, isUnit, quantity } from "#core/units/index.ts";
import { openScenario, ScenarioError } from "#ingest/scenario/load.ts";
import { eventsBetween } from "#ingest/scenario/records.ts";
import { ANCHOR, clock, FOLDER, scenario } from "./pennacombe.ts";

describe("what is there", () => {
  test("the twelve systems of the site, by their agreed codes", () => {
    expect(scenario.site.code).toBe("pennacombe");
    expect(scenario.systems.map((s) => s.code)).toEqual([
      "kelp-gallery",
      "ray-lagoon",
      "pup-pool",
      "reef-lagoon",
      "blackwater-creek",
      "rift-terrace",
      "mangrove-walk",
      "jelly-ring",
      "cold-den",
      "river-giants",
      "giants-pool",
      "quarantine-2",
    ]);
  });

  test("every system sends temperature, oxygen, pH, conductivity, flow, level, a pump, floats and light", () => {
    for (const { code, water } of scenario.systems) {
      const ids = new Set(scenario.streams.filter((s) => s.system === code).map((s) => s.quantity));
      const wanted = [
        "temperature",
        "dissolved_oxygen",
        "ph",
        "flow",
        "level",
        "pump",
        "float",
        "leak",
        "illuminance",
      ];
      for (const id of [...wanted, water === "fresh" ? "specific_conductance" : "conductivity"])
        expect(ids.has(id), `${code} ${id}`).toBe(true);
    }
  });

  test("bands are sound: limits beyond edges, urgent beyond action, each with reason, source and person", () => {
    for (const { low, high, actionLow, actionHigh, urgentLow, urgentHigh, ...band } of scenario.bands) {
      const edges: BandEdges = { low, high, actionLow, actionHigh, urgentLow, urgentHigh };
      expect(faultsOf(edges), `${band.system} ${band.quantity}`).toEqual([]);
      expect(low !== null || high !== null).toBe(true);
    }
  });

  test("no two bands of one place are in force at once", () => {
    const spans = scenario.bands.map((b) => ({
      place: `${b.system}/${b.point}/${b.quantity}`,
      from: b.from ? clock.instantOf(b.from) : Number.NEGATIVE_INFINITY,
      to: b.to ? clock.instantOf(b.to) : Number.POSITIVE_INFINITY,
    }));
    for (const a of spans)
      for (const b of spans)
        if (a !== b && a.place === b.place) expect(a.from >= b.to || b.from >= a.to, a.place).toBe(true);
  });

  test("bench units convert to the registry's, or are states of nothing", () => {
    for (const { quantity: id, unit } of scenario.bench.flatMap((b) => b.results)) {
      const known = quantity(id);
      if (known?.kind !== "number") throw new Error(`${id} is no number`);
      expect(isUnit(unit), unit).toBe(true);
      expect(convertible(unit, known.unit), `${id} in ${unit}`).toBe(true);
    }
  });

  test("feeds come every local day, the rest of the log once", () => {
    const day = (n: number) =>
      eventsBetween(scenario, ANCHOR, clock.instantOf(`D${n} 00:00`), clock.instantOf(`D${n + 1} 00:00`));
    expect(day(7).filter((e) => e.kind === "feed").length).toBe(scenario.events.daily.length);
    expect(day(40).every((e) => e.kind === "feed")).toBe(true);
    const all = eventsBetween(scenario, ANCHOR, ANCHOR - 400 * DAY, ANCHOR + 15 * DAY);
    expect(all.filter((e) => e.kind !== "feed" || e.animals).length).toBe(scenario.events.once.length);
  });

  test("the folder says that its data are invented", () => {
    expect(readFileSync(join(FOLDER, "README.md"), "utf8")).toMatch(/Invented data, for the demo only/);
  });
});

describe("a broken folder", () => {
  let folder = "";
  const broken = (file: string, change: (json: string) => string) => {
    folder = mkdtempSync(join(tmpdir(), "scenario-"));
    cpSync(FOLDER, folder, { recursive: true });
    const path = join(folder, file);
    writeFileSync(path, change(readFileSync(path, "utf8")));
    return () => openScenario(folder);
  };
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  test.each([
    [
      "systems.json",
      (json: string) => json.replace('"volumeM3": 210', '"volumeM3": -1'),
      /systems\.json: 0\.volumeM3/,
    ],
    [
      "streams.json",
      (json: string) => json.replace('"kelp-gallery"', '"kelp-galery"'),
      /no system "kelp-galery"/,
    ],
    ["course.json", (json: string) => json.replace('"tripped"', '"asleep"'), /"asleep" is no state of pump/],
    ["course.json", (json: string) => json.replace("D4 01:37", "D4 1:37"), /day and local clock/],
    ["events.json", (json: string) => json.slice(0, -20), /events\.json: cannot be read as JSON/],
    ["residents.json", (json: string) => json.replace('"wolf-eel"', '"wolf-fish"'), /no species "wolf-fish"/],
  ])("%s names the file, the field and what is wrong", (file, change, message) => {
    const open = broken(file, change);
    expect(open).toThrow(ScenarioError);
    expect(open).toThrow(message);
  });
});

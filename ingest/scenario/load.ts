/** Reads a scenario folder into memory, checked; nothing is guessed or filled in. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { z } from "zod";
import { QUANTITIES, quantity, stateIndex } from "#core/units/index.ts";
import { courseSchema, waterSchema } from "./course-schema.ts";
import { benchSchema, eventsSchema, residentsSchema, speciesSchema } from "./record-schema.ts";
import { bandsSchema, loopsSchema, plansSchema, siteSchema, streamsSchema, systemsSchema } from "./schema.ts";

const FILES = {
  site: siteSchema,
  loops: loopsSchema,
  systems: systemsSchema,
  streams: streamsSchema,
  water: waterSchema,
  course: courseSchema,
  plans: plansSchema,
  bands: bandsSchema,
  species: speciesSchema,
  residents: residentsSchema,
  bench: benchSchema,
  events: eventsSchema,
} as const;

export type Scenario = { readonly [K in keyof typeof FILES]: z.infer<(typeof FILES)[K]> };
export type ScenarioStream = Scenario["streams"][number];
export type ScenarioPlan = Scenario["plans"][number];
export type ScenarioChannel = Scenario["water"]["channels"][number];
export type Place = Pick<ScenarioStream, "system" | "point" | "quantity">;

/** One text for a place, to compare and to hash. */
export const placeKey = (place: Place): string => `${place.system}/${place.point}/${place.quantity}`;

/** Raised when a scenario folder cannot be used: names the file, the field, what was found, what is needed. */
export class ScenarioError extends Error {
  override readonly name = "ScenarioError";
}

/** A scenario from the JSON files of a folder. Throws ScenarioError on the first file that is missing, broken or contradicts another. */
export function openScenario(folder: string): Scenario {
  const scenario = {
    site: read(folder, "site", FILES.site),
    loops: read(folder, "loops", FILES.loops),
    systems: read(folder, "systems", FILES.systems),
    streams: read(folder, "streams", FILES.streams),
    water: read(folder, "water", FILES.water),
    course: read(folder, "course", FILES.course),
    plans: read(folder, "plans", FILES.plans),
    bands: read(folder, "bands", FILES.bands),
    species: read(folder, "species", FILES.species),
    residents: read(folder, "residents", FILES.residents),
    bench: read(folder, "bench", FILES.bench),
    events: read(folder, "events", FILES.events),
  };
  const faults = contradictions(scenario);
  if (faults.length > 0) throw new ScenarioError(`${folder}: ${faults.slice(0, 10).join("; ")}`);
  return scenario;
}

function read<S extends z.ZodType>(folder: string, name: string, schema: S): z.infer<S> {
  const path = join(folder, `${name}.json`);
  let json: unknown;
  try {
    json = JSON.parse(readFileSync(path, "utf8"));
  } catch (cause) {
    throw new ScenarioError(`${path}: cannot be read as JSON (${(cause as Error).message})`, { cause });
  }
  const parsed = schema.safeParse(json);
  if (parsed.success) return parsed.data;
  const issues = parsed.error.issues
    .slice(0, 5)
    .map((issue) => `${issue.path.join(".") || "(whole file)"}: ${issue.message}`);
  throw new ScenarioError(`${path}: ${issues.join("; ")}`);
}

function contradictions(scenario: Scenario): string[] {
  const faults: string[] = [];
  const systems = new Set(scenario.systems.map((s) => s.code));
  const loops = new Set(scenario.loops.map((l) => l.code));
  const species = new Set(scenario.species.map((s) => s.code));
  const plans = new Set(scenario.plans.map((p) => p.code));
  const staff = new Set(scenario.site.staff);
  const streams = new Map<string, ScenarioStream>();
  const knownSystem = (file: string, system: string) => {
    if (!systems.has(system)) faults.push(`${file}: no system "${system}" in systems.json`);
  };
  const knownQuantity = (file: string, id: string) => {
    if (!quantity(id))
      faults.push(`${file}: no quantity "${id}"; known are ${Object.keys(QUANTITIES).join(", ")}`);
  };
  const knownPerson = (file: string, role: string) => {
    if (!staff.has(role)) faults.push(`${file}: nobody is "${role}" in the staff of site.json`);
  };

  const places = new Set(scenario.systems.flatMap((s) => Object.keys(s.points).map((p) => `${s.code}/${p}`)));
  const knownPoint = (
    file: string,
    { system, point }: { readonly system: string; readonly point: string },
  ) => {
    if (!places.has(`${system}/${point}`))
      faults.push(`${file}: no point "${point}" of ${system} in systems.json`);
  };

  for (const system of scenario.systems)
    for (const loop of system.loops) if (!loops.has(loop)) faults.push(`systems.json: no loop "${loop}"`);
  for (const loop of scenario.loops) for (const system of loop.systems) knownSystem("loops.json", system);
  for (const stream of scenario.streams) {
    knownSystem("streams.json", stream.system);
    knownPoint("streams.json", stream);
    knownQuantity("streams.json", stream.quantity);
    if (streams.has(placeKey(stream))) faults.push(`streams.json: ${placeKey(stream)} is there twice`);
    streams.set(placeKey(stream), stream);
  }
  for (const part of [...scenario.water.states, ...scenario.course.states, ...scenario.course.late])
    if (!streams.has(placeKey(part))) faults.push(`${placeKey(part)} has no stream in streams.json`);
  const words = [
    ...scenario.water.states.flatMap((s) =>
      [s.usual, ...(s.cycle ? [s.cycle.word] : [])].map((word) => [s.quantity, word] as const),
    ),
    ...scenario.course.states.flatMap((s) => s.changes.map(([, word]) => [s.quantity, word] as const)),
  ];
  for (const [id, word] of words) {
    const known = quantity(id);
    if (word !== null && (known?.kind !== "state" || stateIndex(known, word) === undefined))
      faults.push(`"${word}" is no state of ${id}`);
  }
  for (const channel of scenario.water.channels) {
    knownSystem("water.json", channel.system);
    for (const plan of [channel.plan, channel.light?.plan])
      if (plan !== undefined && !plans.has(plan)) faults.push(`water.json: no plan "${plan}" in plans.json`);
  }
  for (const band of scenario.bands) {
    knownSystem("bands.json", band.system);
    knownQuantity("bands.json", band.quantity);
    knownPerson("bands.json", band.setBy);
  }
  for (const plan of scenario.plans) knownPerson("plans.json", plan.setBy);
  for (const resident of scenario.residents) {
    knownSystem("residents.json", resident.system);
    if (!species.has(resident.species))
      faults.push(`residents.json: no species "${resident.species}" in species.json`);
  }
  for (const test of scenario.bench) {
    knownSystem("bench.json", test.system);
    knownPoint("bench.json", test);
    knownPerson("bench.json", test.by);
    for (const result of test.results) knownQuantity("bench.json", result.quantity);
  }
  for (const event of [...scenario.events.once, ...scenario.events.daily]) {
    for (const system of event.systems) knownSystem("events.json", system);
    knownPerson("events.json", event.by);
    if (event.quantity !== undefined) knownQuantity("events.json", event.quantity);
  }
  return faults;
}

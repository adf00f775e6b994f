/** The invented aquarium, opened on the fixed dates whose D7 has 25 hours, with short ways to ask it. */
import { fileURLToPath } from "node:url";
import { Temporal } from "temporal-polyfill";
import { oxygenPercent, practicalSalinity } from "#core/chemistry/index.ts";
import { degC, hPa, mgPerL, msPerCm, psu } from "#core/units/index.ts";
import { openClock } from "#ingest/scenario/clock.ts";
import { openScenario } from "#ingest/scenario/load.ts";
import { readingsBetween } from "#ingest/scenario/readings.ts";
import { valueAt } from "#ingest/scenario/sampler.ts";

export const FOLDER = fileURLToPath(new URL("../../../fixtures/pennacombe", import.meta.url));
export const ZONE = "Europe/London";

/** Local midnight of D1 on a fixed ISO date, e.g. "2026-10-19". */
export const anchorOn = (date: string, zone: string): number =>
  Temporal.PlainDate.from(date).toZonedDateTime({ timeZone: zone }).epochMilliseconds;

export const ANCHOR = anchorOn("2026-10-19", ZONE);
export const scenario = openScenario(FOLDER);
export const clock = openClock(ZONE, ANCHOR);

/** The index of a stream in streams.json. Throws RangeError when there is none such. */
export function streamIndex(of: typeof scenario, system: string, point: string, id: string): number {
  const index = of.streams.findIndex((s) => s.system === system && s.point === point && s.quantity === id);
  if (index < 0) throw new RangeError(`no stream ${system}/${point}/${id}`);
  return index;
}

/** The reading of a stream at a moment; fails the test where the probe is silent. */
export function at(moment: string, system: string, id: string, point = "display"): number {
  const value = readingAt(clock.instantOf(moment), system, id, point);
  if (value === null) throw new Error(`${system}/${point}/${id} is silent at ${moment}`);
  return value;
}

export const readingAt = (instant: number, system: string, id: string, point = "display"): number | null =>
  valueAt(scenario, streamIndex(scenario, system, point, id), instant, ANCHOR);

export function salinityAt(moment: string, system: string): number {
  const { value } = practicalSalinity(
    msPerCm(at(moment, system, "conductivity")),
    degC(at(moment, system, "temperature")),
  );
  if (value === null) throw new Error(`no salinity at ${moment}`);
  return value;
}

export function oxygenPercentAt(moment: string, system: string, salinity: number): number {
  const { value } = oxygenPercent(
    mgPerL(at(moment, system, "dissolved_oxygen")),
    degC(at(moment, system, "temperature")),
    psu(salinity),
    hPa(at(moment, "kelp-gallery", "barometric_pressure", "plant-room")),
  );
  if (value === null) throw new Error(`no oxygen saturation at ${moment}`);
  return value;
}

/** The as-sampled readings of one stream between two moments. */
export function seriesBetween(from: string, to: string, system: string, id: string, point = "display") {
  const index = streamIndex(scenario, system, point, id);
  const all = readingsBetween(scenario, ANCHOR, clock.instantOf(from), clock.instantOf(to), "as-sampled");
  return [...all].filter((r) => r.stream === index);
}

/** The first as-sampled instant from a moment on at which a reading is at or past a limit. */
export function firstPast(
  limit: number,
  from: string,
  to: string,
  system: string,
  id: string,
  point?: string,
) {
  return seriesBetween(from, to, system, id, point).find((r) => r.value >= limit)?.at;
}

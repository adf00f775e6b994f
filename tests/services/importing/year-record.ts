/**
 * A year of one sonde as its logger would have kept it, the same numbers at every run and none of them measured anywhere: seasons, days,
 * storms that wash the salt out, an hour out of the water every four weeks, and nine days without power in winter.
 */
import { QUANTITIES, type SondeQuantity } from "#tests/faults/sonde-site.ts";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
/** Both changes of the clocks of a European year lie inside, 26 October and 29 March. */
const BEGIN = Date.UTC(2025, 9, 15, 7);

/** In order of time. */
export type YearCells = readonly (readonly [at: number, value: number])[];
export interface YearRecord {
  readonly csv: string;
  /** Of each quantity what is not empty. */
  readonly cells: ReadonlyMap<SondeQuantity, YearCells>;
}

/** A number in [-0.5, 0.5) that depends on its argument alone. */
const jitter = (n: number): number => {
  const x = Math.sin(n * 7.233 + 1.77) * 91_733.17;
  return x - Math.floor(x) - 0.5;
};

function valueAt(quantity: SondeQuantity, at: number, seed: number): number {
  const days = (at - BEGIN) / DAY;
  const season = Math.cos((2 * Math.PI * (days - 280)) / 365);
  const daily = Math.sin(2 * Math.PI * days);
  const unrest = jitter(seed);
  // Rain in every twenty-three days: two days until all of it is in the water, three until it is gone.
  const since = days % 23;
  const rain = since < 2 ? since / 2 : since < 5 ? (5 - since) / 3 : 0;
  switch (quantity) {
    case "temperature":
      return 13.5 + 4.5 * season + 0.4 * daily + 0.05 * unrest - 0.8 * rain;
    case "conductivity":
      return 38 + 4 * season + 0.1 * unrest - 9 * rain;
    case "ph":
      return 8 + 0.05 * season + 0.05 * daily + 0.02 * unrest - 0.15 * rain;
    case "dissolved_oxygen":
      return 8.4 - 1.2 * season + 0.4 * daily + 0.08 * unrest - 0.5 * rain;
  }
}

/** A row every `minutes`, for 365 days. */
export function yearRecord(minutes: number): YearRecord {
  const lines = [["t", ...QUANTITIES].join(",")];
  const cells = new Map(QUANTITIES.map((quantity) => [quantity, [] as (readonly [number, number])[]]));
  for (let at = BEGIN; at < BEGIN + 365 * DAY; at += minutes * MINUTE) {
    const into = at - BEGIN;
    if (into >= 90 * DAY && into < 99 * DAY) continue;
    const isOut = into % (28 * DAY) >= 5 * DAY && into % (28 * DAY) < 5 * DAY + HOUR;
    const line = [new Date(at).toISOString().replace(".000Z", "")];
    for (const [index, quantity] of QUANTITIES.entries()) {
      const seed = (into / MINUTE) * 4 + index;
      // A cell in two hundred never came.
      if (isOut || jitter(seed + 0.5) < -0.495) line.push("");
      else {
        const value = Number(valueAt(quantity, at, seed).toFixed(3));
        line.push(String(value));
        cells.get(quantity)?.push([at, value]);
      }
    }
    lines.push(line.join(","));
  }
  return { csv: `${lines.join("\n")}\n`, cells };
}

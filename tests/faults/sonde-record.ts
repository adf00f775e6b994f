/** A record of three sondes as a logger would have kept it: the same numbers at every run, none of them measured anywhere. */
import { QUANTITIES, type SondeQuantity, SYSTEMS } from "./sonde-site.ts";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
export const INTERVAL_MS = 10 * MINUTE;
/** Two weeks later British summer time ends (26 October 2025, 01:00 UTC): a site day of 25 hours lies inside. */
const BEGIN = Date.UTC(2025, 9, 14, 6);

export interface Cell {
  readonly system: string;
  readonly quantity: SondeQuantity;
  readonly at: number;
  readonly value: number;
}
export interface SondeRecord {
  /** As a CSV file, with empty cells where a probe was out of the water. */
  readonly csv: string;
  readonly rows: number;
  /** Every cell that is not empty, in the order of the file. */
  readonly cells: readonly Cell[];
}

/** A number in [0, 1) that depends on its argument alone (the fractional part of a sine times a large number). */
const noise = (n: number): number => {
  const x = Math.sin(n * 12.9898 + 78.233) * 43_758.5453;
  return x - Math.floor(x);
};

/** Rows at ten minutes' distance. Excursions come every two days and last hours, so that any few days have some. */
export function sondeRecord(rows: number): SondeRecord {
  const lines = [["t", ...SYSTEMS.flatMap((system) => QUANTITIES.map((q) => `${system} ${q}`))].join(",")];
  const cells: Cell[] = [];
  for (let row = 0; row < rows; row++) {
    // The logger was without power for seven hours once a week.
    const at = BEGIN + row * INTERVAL_MS + Math.floor(row / 900) * 7 * HOUR;
    const line = [new Date(at).toISOString().replace(".000Z", "")];
    for (const [number, system] of SYSTEMS.entries()) {
      for (const [index, quantity] of QUANTITIES.entries()) {
        const seed = row * 16 + number * 4 + index;
        if (isAway(row, number, index)) {
          line.push("");
          continue;
        }
        // What a loose cable sends: outside anything water can be.
        const isBroken = noise(seed + 0.5) < 0.002;
        const value = isBroken ? 85 : Number(valueAt(quantity, at, number, noise(seed) - 0.5).toFixed(3));
        line.push(String(value));
        cells.push({ system, quantity, at, value });
      }
    }
    lines.push(line.join(","));
  }
  return { csv: `${lines.join("\n")}\n`, rows, cells };
}

/** A probe taken out for cleaning: half an hour every three days; and single cells that never came. */
function isAway(row: number, system: number, probe: number): boolean {
  const hours = row + system * 37 + probe * 11;
  return hours % 432 < 3 || noise(row * 31 + system * 7 + probe) < 0.01;
}

function valueAt(quantity: SondeQuantity, at: number, system: number, jitter: number): number {
  const since = at - BEGIN - system * 9 * HOUR;
  const daily = Math.sin((2 * Math.PI * at) / DAY);
  const twoDays = ((since % (2 * DAY)) + 2 * DAY) % (2 * DAY);
  const during = (from: number, hours: number) => twoDays >= from * HOUR && twoDays < (from + hours) * HOUR;
  const into = (from: number) => (twoDays - from * HOUR) / HOUR;
  switch (quantity) {
    case "temperature":
      // A heater stays on: half a degree an hour for seven hours, then the water is exchanged.
      return 15 + 0.3 * daily + 0.04 * jitter + (during(10, 7) ? 0.5 * into(10) : 0);
    case "conductivity":
      return 40.5 + 0.1 * daily + 0.06 * jitter - (during(25, 5) ? 3.5 : 0);
    case "ph":
      return 8.05 + 0.06 * daily + 0.02 * jitter - (during(30, 6) ? 0.4 : 0);
    case "dissolved_oxygen":
      return 8.1 + 0.2 * daily + 0.08 * jitter - (during(36, 5) ? 0.6 * into(36) : 0);
  }
}

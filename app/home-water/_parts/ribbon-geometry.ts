/** Where a year's ranges lie on a drawing that is 100 wide and 100 high, whatever its size on the screen. */
import { roundTo, roundToFigures } from "#core/units/rounding.ts";

/** Days from 1 January to the 15th of each month in a year of 365. */
export const MIDDLES = [14, 45, 73, 104, 134, 165, 195, 226, 257, 287, 318, 348] as const;
const YEAR = 365;
/** A range is drawn in steps of so many days. */
const STEP = 5;

export interface RangeOfMonth {
  readonly low: number | null;
  readonly high: number | null;
}
type Edge = "low" | "high";

export const xOfDay = (day: number): number => (day / YEAR) * 100;
export const xOfMonth = (month: number): number => xOfDay(MIDDLES[month] ?? 0);

/** Value of an edge on a day of the year, linear between mid-months; null where one of the two months has none. */
export function edgeOn(months: readonly (RangeOfMonth | null)[], edge: Edge, day: number): number | null {
  const next = MIDDLES.findIndex((middle) => middle > day);
  const after = next === -1 ? 0 : next;
  const before = (after + 11) % 12;
  const [a, b] = [months[before]?.[edge] ?? null, months[after]?.[edge] ?? null];
  if (a === null || b === null) return null;
  const start = MIDDLES[before] ?? 0;
  const span = ((MIDDLES[after] ?? 0) - start + YEAR) % YEAR;
  return a + ((b - a) * ((day - start + YEAR) % YEAR)) / span;
}

export const DAYS: readonly number[] = Array.from({ length: YEAR / STEP + 1 }, (_, i) => i * STEP);

export interface Scale {
  readonly low: number;
  readonly high: number;
  readonly ticks: readonly number[];
  /** From the top, 0 to 100. */
  y(value: number): number;
}

const NICE = [1, 2, 2.5, 5, 10] as const;

/** A scale that holds every value with a little room, and at most seven ticks at round numbers. Without a value 0 to 1. */
export function scaleOf(values: readonly (number | null | undefined)[]): Scale {
  const known = values.filter(
    (value): value is number => value !== null && value !== undefined && Number.isFinite(value),
  );
  const [least, most] = known.length === 0 ? [0, 1] : [Math.min(...known), Math.max(...known)];
  const pad = Math.max((most - least) * 0.06, Math.abs(most) * 0.002, 1e-6);
  const [low, high] = [least - pad, most + pad];
  const rough = (high - low) / 6;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = (NICE.find((nice) => nice * power >= rough) ?? 10) * power;
  const first = Math.ceil(low / step);
  const ticks: number[] = [];
  for (let i = first; i * step <= high; i += 1) ticks.push(roundToFigures(i * step, 6));
  return { low, high, ticks, y: (value) => ((high - value) / (high - low)) * 100 };
}

/** Digits after the point that say every tick as it is drawn: "8.13" beside the line of 8.125, or "34.8" beside three lines, is not so. */
export function tickPlaces(ticks: readonly number[], decimals: number): number {
  if (ticks.every((tick) => Number.isInteger(tick))) return 0;
  const needed = ticks.map(
    (tick) => [...Array(7).keys()].find((places) => roundTo(tick, places) === tick) ?? 6,
  );
  return Math.max(1, decimals, ...needed);
}

const at = (day: number, y: number) => `${roundTo(xOfDay(day), 2)} ${roundTo(y, 2)}`;

/** An SVG path of one edge; it breaks where the edge is not known. */
export function edgePath(months: readonly (RangeOfMonth | null)[], edge: Edge, scale: Scale): string {
  let path = "";
  let isDown = false;
  for (const day of DAYS) {
    const value = edgeOn(months, edge, day);
    if (value === null) {
      isDown = false;
      continue;
    }
    path += `${isDown ? "L" : "M"}${at(day, scale.y(value))}`;
    isDown = true;
  }
  return path;
}

export interface Stretch {
  /** True where low lies above high: nobody's range is common. */
  readonly isGap: boolean;
  readonly days: readonly number[];
}

/** The year in stretches with a common range and without one; days with an open or unknown edge belong to neither. */
export function roomOf(months: readonly (RangeOfMonth | null)[]): Stretch[] {
  const stretches: { isGap: boolean; days: number[] }[] = [];
  for (const day of DAYS) {
    const [low, high] = [edgeOn(months, "low", day), edgeOn(months, "high", day)];
    if (low === null || high === null) continue;
    const isGap = low > high;
    const last = stretches.at(-1);
    const isNext = last !== undefined && (last.days.at(-1) ?? -STEP) === day - STEP;
    if (isNext && last.isGap === isGap) last.days.push(day);
    // Neighbours share the day between them, so that no slit is left open.
    else stretches.push({ isGap, days: isNext ? [day - STEP, day] : [day] });
  }
  return stretches;
}

/** Corners of the area between the edges over some days, as percent of width and height. */
export function cornersOf(
  months: readonly (RangeOfMonth | null)[],
  days: readonly number[],
  scale: Scale,
): string[] {
  const side = (edge: Edge, of: readonly number[]) =>
    of.flatMap((day) => {
      const value = edgeOn(months, edge, day);
      return value === null ? [] : [at(day, scale.y(value))];
    });
  return [...side("high", days), ...side("low", [...days].reverse())];
}

/** Heights of labels, pushed apart so that none lies on another; in the order given. */
export function spread(heights: readonly number[], apart: number): number[] {
  const order = heights.map((y, i) => ({ y, i })).sort((a, b) => a.y - b.y);
  let last = Number.NEGATIVE_INFINITY;
  const placed = new Map<number, number>();
  for (const { y, i } of order) {
    const here = Math.max(y, last + apart);
    placed.set(i, here);
    last = here;
  }
  return heights.map((y, i) => placed.get(i) ?? y);
}

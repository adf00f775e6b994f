/**
 * Tests of a recorded series, one flag a value: 1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing. Windows are spans of time, never
 * counts of samples, so that irregular records are tested alike. A threshold must be passed (strict >): at the limit itself a value passes.
 * Source: IOOS QARTOD, Manual for Real-Time Quality Control of In-situ Temperature and Salinity Data, version 2.0 (2016).
 */
import { mean } from "../statistics/mean.ts";
import type { Instant } from "../time/instant.ts";
import { FLAG, type Flag } from "./flag.ts";

export interface Series {
  /** UTC milliseconds, rising. */
  readonly t: readonly Instant[];
  /** In the quantity's unit; null where the reading is missing. */
  readonly values: readonly (number | null)[];
}
/** Null: that level of the test is off. */
export interface Thresholds {
  readonly suspect: number | null;
  readonly fail: number | null;
}

function above(size: number, { suspect, fail }: Thresholds): Flag {
  if (fail !== null && size > fail) return FLAG.fail;
  return suspect !== null && size > suspect ? FLAG.suspect : FLAG.pass;
}

const valueAt = (series: Series, i: number): number | null => series.values[i] ?? null;

/**
 * Spike: how far a value stands out from its two neighbours. `differential` (the smaller of the two steps where they have opposite signs)
 * leaves the neighbours of a spike and the sides of a step alone; `average` is the distance from the mean of the neighbours.
 */
export function spikeTest(
  series: Series,
  thresholds: Thresholds,
  method: "differential" | "average",
): Flag[] {
  return series.values.map((value, i) => {
    if (value === null) return FLAG.missing;
    const [before, after] = [valueAt(series, i - 1), valueAt(series, i + 1)];
    if (before === null || after === null) return FLAG.notEvaluated;
    if (method === "average") return above(Math.abs(value - (before + after) / 2), thresholds);
    const [up, down] = [value - before, after - value];
    return above(up * down < 0 ? Math.min(Math.abs(up), Math.abs(down)) : 0, thresholds);
  });
}

/** Rate of change between a value and the one before it, in units a second; the flag sits on the later one. After a missing value: pass. */
export function rateTest(series: Series, perSecond: Thresholds): Flag[] {
  return series.values.map((value, i) => {
    if (value === null) return FLAG.missing;
    const before = valueAt(series, i - 1);
    const seconds = ((series.t[i] as number) - (series.t[i - 1] ?? 0)) / 1000;
    if (before === null || !(seconds > 0)) return FLAG.pass;
    return above(Math.abs(value - before) / seconds, perSecond);
  });
}

/** Values of the window that ends at `i` and is `span` long, its first instant included or not. */
function windowOf(series: Series, i: number, span: number, isClosed: boolean): (number | null)[] {
  const from = (series.t[i] as number) - span;
  const found: (number | null)[] = [];
  for (let j = i; j >= 0; j--) {
    const at = series.t[j] as number;
    if (isClosed ? at < from : at <= from) break;
    found.push(valueAt(series, j));
  }
  return found;
}
const known = (values: readonly (number | null)[]): number[] => values.filter((value) => value !== null);

const rangeOf = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);

/** Flat line: all values of the last `suspect` or `fail` milliseconds lie closer together than `tolerance`. Fewer than three: pass. */
export function flatLineTest(series: Series, durations: Thresholds, tolerance: number): Flag[] {
  const first = series.t[0] ?? 0;
  const isFlat = (i: number, span: number | null): boolean => {
    if (span === null || (series.t[i] as number) - first < span) return false;
    const values = known(windowOf(series, i, span, true));
    return values.length >= 2 && rangeOf(values) < tolerance;
  };
  return series.values.map((value, i) => {
    if (value === null) return FLAG.missing;
    if (series.values.length < 3) return FLAG.pass;
    if (isFlat(i, durations.fail)) return FLAG.fail;
    return isFlat(i, durations.suspect) ? FLAG.suspect : FLAG.pass;
  });
}

/**
 * Attenuated signal: values of the last `span` milliseconds (its first instant left out) vary less than the thresholds, as population
 * standard deviation or as range. Fewer than `atLeast` values, or one missing among them: not evaluated. Without a span the whole series is one window.
 */
export function attenuationTest(
  series: Series,
  below: Thresholds,
  options: {
    readonly measure: "deviation" | "range";
    readonly span: number | null;
    readonly atLeast: number;
  },
): Flag[] {
  const all = known(series.values);
  return series.values.map((value, i) => {
    if (value === null) return FLAG.missing;
    const found = options.span === null ? all : windowOf(series, i, options.span, false);
    const values = known(found);
    if (values.length < options.atLeast || values.length < found.length) return FLAG.notEvaluated;
    const middle = mean(values);
    const spread =
      options.measure === "range"
        ? rangeOf(values)
        : Math.sqrt(values.reduce((sum, each) => sum + (each - middle) ** 2, 0) / values.length);
    if (below.fail !== null && spread < below.fail) return FLAG.fail;
    return below.suspect !== null && spread < below.suspect ? FLAG.suspect : FLAG.pass;
  });
}

/** Time gap: the sample after a pause longer than `limit` milliseconds fails; missing values do not matter here. */
export const gapTest = (t: readonly Instant[], limit: number): Flag[] =>
  t.map((at, i) => (i > 0 && at - (t[i - 1] as number) > limit ? FLAG.fail : FLAG.pass));

/** The flags of several tests of one value rolled up into one; rising: missing, not evaluated, pass, suspect, fail. */
export function rollUpFlags(flags: readonly Flag[]): Flag {
  const order: readonly Flag[] = [FLAG.missing, FLAG.notEvaluated, FLAG.pass, FLAG.suspect, FLAG.fail];
  return flags.reduce<Flag>(
    (worst, flag) => (order.indexOf(flag) > order.indexOf(worst) ? flag : worst),
    FLAG.missing,
  );
}

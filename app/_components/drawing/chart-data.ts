import type { SeriesView } from "#contract/views.ts";
import type { BandEdges } from "#core/habitat/band.ts";
import { median } from "#core/statistics/robust.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { reasonWords } from "../words/stream-words.ts";

export interface Span {
  readonly from: number;
  readonly to: number;
}
export interface ChartPoint {
  readonly at: number;
  readonly value: number;
}
export interface BenchPoint extends ChartPoint {
  readonly qualifier: "=" | "<" | ">";
}

/** What is drawn: a line that breaks at gaps, the ribbon between least and most, and what must never be joined to it. */
export interface ChartData {
  /** Milliseconds; at the middle of a rollup's span. */
  readonly at: number[];
  readonly mean: (number | null)[];
  readonly low: (number | null)[];
  readonly high: (number | null)[];
  readonly hasRibbon: boolean;
  readonly suspect: readonly ChartPoint[];
  readonly bench: readonly BenchPoint[];
  readonly gaps: readonly Span[];
  readonly last: ChartPoint | null;
  /** Why a reading was set aside, in words, by its time. */
  readonly why: ReadonlyMap<number, string>;
}

/** A reading that came in after the series was read. */
export interface TailPoint extends ChartPoint {
  readonly flag: number;
}

const SUSPECT = 3;

/** The longest step that is still joined: three usual ones and at least two minutes for readings, one and a half for rollups. */
function longestStep(at: readonly number[], step: number | null): number {
  if (step !== null && step > 0) return 1.5 * step;
  const steps = at.slice(1).map((t, i) => t - (at[i] ?? t));
  return Math.max(2 * MINUTE, 3 * (steps.length === 0 ? 0 : median(steps)));
}

function benchPoints(bench: SeriesView | null): BenchPoint[] {
  if (bench === null) return [];
  return bench.columns.at.flatMap((at, i) => {
    const value = bench.columns.mean[i];
    return value == null ? [] : [{ at, value, qualifier: bench.columns.qualifier?.[i] ?? "=" }];
  });
}

const FLAG_WORD: Readonly<Record<number, string>> = { 3: "suspect", 4: "failed", 9: "missing" };

function whyOf(series: SeriesView | null): Map<number, string> {
  return new Map(
    (series?.flagged ?? []).map(({ at, flag, reasons }) => {
      const word = FLAG_WORD[flag] ?? "set aside";
      return [at, reasons.length === 0 ? word : `${word}: ${reasons.map(reasonWords).join(", ")}`];
    }),
  );
}

/** Columns as the chart takes them. Suspect readings leave the line and become rings; bench results stand apart. */
export function chartData(
  series: SeriesView | null,
  bench: SeriesView | null,
  tail: readonly TailPoint[] = [],
): ChartData {
  const out = {
    at: [] as number[],
    mean: [] as (number | null)[],
    low: [] as (number | null)[],
    high: [] as (number | null)[],
  };
  const suspect: ChartPoint[] = [];
  const gaps: Span[] = [];
  const step = series?.step ?? null;
  const columns = series?.columns;
  const isRaw = series === null || series.resolution === "raw";
  const middle = step === null ? 0 : step / 2;
  const known = columns?.at ?? [];
  const limit = longestStep(known, step);
  let previous: number | null = null;
  const push = (at: number, mean: number | null, low: number | null, high: number | null) => {
    if (previous !== null && at - previous > limit) {
      gaps.push({ from: previous, to: at });
      out.at.push(previous + (at - previous) / 2);
      for (const column of [out.mean, out.low, out.high]) column.push(null);
    }
    out.at.push(at);
    out.mean.push(mean);
    out.low.push(low);
    out.high.push(high);
    if (mean !== null) previous = at;
  };
  known.forEach((start, i) => {
    const mean = columns?.mean[i] ?? null;
    const at = Math.min(start + middle, Math.max(series?.to ?? start, start));
    if (isRaw && mean !== null && (columns?.flag[i] ?? 1) >= SUSPECT) {
      suspect.push({ at, value: mean });
      push(at, null, null, null);
      return;
    }
    const low = columns?.low?.[i] ?? columns?.min[i] ?? null;
    const high = columns?.high?.[i] ?? columns?.max[i] ?? null;
    push(at, mean, low, high);
  });
  const newest = out.at.at(-1) ?? Number.NEGATIVE_INFINITY;
  for (const point of tail) {
    if (point.at <= newest) continue;
    if (point.flag >= SUSPECT) {
      suspect.push(point);
      push(point.at, null, null, null);
    } else push(point.at, point.value, point.value, point.value);
  }
  const lastAt = out.mean.findLastIndex((v) => v !== null);
  const last = lastAt < 0 ? null : { at: out.at[lastAt] ?? 0, value: out.mean[lastAt] ?? 0 };
  const hasRibbon = !isRaw || columns?.low !== undefined;
  return { ...out, hasRibbon, suspect, bench: benchPoints(bench), gaps, last, why: whyOf(series) };
}

/**
 * The value axis: where the water should be comes first (band and action limits), then the data; so a calm line lies
 * still in a wide band and does not fill the chart with its own noise.
 */
export function valueRange(
  data: ChartData,
  bands: readonly { readonly edges: BandEdges }[],
  decimals: number,
  other: ChartData | null = null,
): readonly [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const take = (value: number | null | undefined) => {
    if (value == null || !Number.isFinite(value)) return;
    low = Math.min(low, value);
    high = Math.max(high, value);
  };
  for (const { edges } of bands)
    for (const e of [edges.low, edges.high, edges.actionLow, edges.actionHigh]) take(e);
  for (const value of data.low) take(value);
  for (const value of data.high) take(value);
  for (const { value } of data.bench) take(value);
  for (const value of other?.mean ?? []) take(value);
  if (low > high) return [0, 1];
  // Without a band nothing says how wide is wide: never less than forty steps of the last place, or noise looks like news.
  const least = 40 * 10 ** -decimals;
  const missing = Math.max(0, least - (high - low)) / 2;
  const room = (high - low) * 0.08 + missing;
  return [low - room, high + room];
}

const NIGHT_BEGINS = 18;
const NIGHT_ENDS = 6;

/** The moment after `at` when the site's clock shows `hour`; right also over a change of the clock. */
export function nextHour(at: number, hour: number, clock: ZoneClock): number {
  let ahead = (((hour - clock.hour(at)) % 24) + 24) % 24;
  if (ahead === 0) ahead = 24;
  const guess = at + ahead * HOUR;
  const off = ((((hour - clock.hour(guess)) % 24) + 36) % 24) - 12;
  return Math.round((guess + off * HOUR) / 1000) * 1000;
}

/** Nights of the site, 18:00 to 06:00, within the span; none over spans where they would only be stripes. */
export function nightsIn(span: Span, clock: ZoneClock): Span[] {
  if (span.to - span.from > 40 * DAY) return [];
  const nights: Span[] = [];
  const hour = clock.hour(span.from);
  let at = span.from;
  if (hour >= NIGHT_BEGINS || hour < NIGHT_ENDS) {
    const end = nextHour(at, NIGHT_ENDS, clock);
    nights.push({ from: at, to: Math.min(end, span.to) });
    at = end;
  }
  for (;;) {
    const from = nextHour(at, NIGHT_BEGINS, clock);
    if (from >= span.to) return nights;
    const to = nextHour(from, NIGHT_ENDS, clock);
    nights.push({ from, to: Math.min(to, span.to) });
    at = to;
  }
}

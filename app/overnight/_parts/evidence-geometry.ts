import { chartData, type Span, valueRange } from "#app/_components/drawing/chart-data.ts";
import type { SeriesView } from "#contract/views.ts";
import type { BandEdges } from "#core/habitat/band.ts";
import { edgeText, numberText } from "#core/units/number-text.ts";

/** The drawing's own units; it is scaled as a whole, letters with it. */
export const WIDTH = 340;
export const HEIGHT = 104;
export const FIELD = { left: 36, right: 270, top: 16, bottom: 84 } as const;
const LEAST_APART = 11;

export interface Level {
  readonly y: number;
  readonly label: string;
  readonly isLimit: boolean;
}
/** A small chart as shapes: what is drawn, and what it says in words. */
export interface Evidence {
  /** One path a stretch without gaps. */
  readonly line: string;
  /** Readings set aside. */
  readonly rings: readonly { readonly x: number; readonly y: number }[];
  /** Bench results: never joined, as if it had been measured between them. */
  readonly squares: readonly { readonly x: number; readonly y: number }[];
  readonly band: { readonly top: number; readonly bottom: number } | null;
  readonly levels: readonly Level[];
  readonly last: { readonly x: number; readonly y: number; readonly label: string } | null;
  /** From the last reading to the end of the range, where that is longer than the longest usual step. */
  readonly silence: { readonly from: number; readonly to: number } | null;
  readonly least: string;
  readonly most: string;
}

const round = (n: number) => Math.round(n * 10) / 10;

/** Place of an instant in the drawing. */
export function placeOf(at: number, span: Span): number {
  const share = (at - span.from) / Math.max(1, span.to - span.from);
  return round(FIELD.left + Math.min(1, Math.max(0, share)) * (FIELD.right - FIELD.left));
}

function levelsOf(edges: BandEdges | undefined, y: (value: number) => number, decimals: number): Level[] {
  if (edges === undefined) return [];
  const wanted = [
    { value: edges.low, isLimit: false },
    { value: edges.high, isLimit: false },
    { value: edges.actionLow, isLimit: true },
    { value: edges.actionHigh, isLimit: true },
  ];
  return wanted.flatMap(({ value, isLimit }) =>
    value === null ? [] : [{ y: y(value), label: edgeText(value, decimals), isLimit }],
  );
}

/** Labels that would overlap leave room for the one before; edges come before limits. */
export function readable(levels: readonly Level[]): Level[] {
  const kept: Level[] = [];
  for (const level of levels) {
    if (kept.every((other) => Math.abs(other.y - level.y) >= LEAST_APART)) kept.push(level);
  }
  return kept;
}

/** Shapes of a series over a span; null where it has no reading at all. */
export function evidenceOf(series: SeriesView, span: Span): Evidence | null {
  const isBench = series.origin === "bench";
  const data = isBench ? chartData(null, series) : chartData(series, null);
  const seen = [
    ...data.mean.filter((v) => v !== null),
    ...data.suspect.map((p) => p.value),
    ...data.bench.map((p) => p.value),
  ];
  if (seen.length === 0) return null;
  const [low, high] = valueRange(data, series.bands, series.decimals);
  const y = (value: number) => {
    const share = (value - low) / Math.max(high - low, Number.MIN_VALUE);
    return round(FIELD.bottom - Math.min(1, Math.max(0, share)) * (FIELD.bottom - FIELD.top));
  };
  let isDown = false;
  const steps = data.at.flatMap((at, i) => {
    const value = data.mean[i];
    if (value == null || at < span.from || at > span.to) {
      isDown = false;
      return [];
    }
    const step = `${isDown ? "L" : "M"}${placeOf(at, span)} ${y(value)}`;
    isDown = true;
    return [step];
  });
  const edges = series.bands.at(-1)?.edges;
  const hasBand = edges !== undefined && (edges.low !== null || edges.high !== null);
  const last = data.last ?? data.bench.at(-1) ?? null;
  const longest = Math.max(3 * (series.step ?? 0), 30 * 60_000);
  return {
    line: steps.join(""),
    rings: data.suspect.map((p) => ({ x: placeOf(p.at, span), y: y(p.value) })),
    squares: data.bench.map((p) => ({ x: placeOf(p.at, span), y: y(p.value) })),
    band: hasBand
      ? {
          top: edges.high === null ? FIELD.top : y(edges.high),
          bottom: edges.low === null ? FIELD.bottom : y(edges.low),
        }
      : null,
    levels: levelsOf(edges, y, series.decimals),
    last:
      last === null
        ? null
        : { x: placeOf(last.at, span), y: y(last.value), label: numberText(last.value, series.decimals) },
    silence:
      data.last !== null && last !== null && span.to - last.at > longest
        ? { from: placeOf(last.at, span), to: FIELD.right }
        : null,
    least: numberText(Math.min(...seen), series.decimals),
    most: numberText(Math.max(...seen), series.decimals),
  };
}

import type { QuantityOfHome } from "#contract/home-water.ts";
import { siteMonths } from "#core/fit/index.ts";
import { quantileOfSorted } from "#core/statistics/robust.ts";
import { DAY } from "#core/time/instant.ts";
import type { Span } from "#core/time/spans.ts";
import type { Store, Stream } from "#store/port.ts";

const MOST_ROWS = 3_200;

/** One of the means themselves, so that both ends are water that was there. */
const end = (sorted: readonly number[], share: number): number | null =>
  sorted[Math.round(share * (sorted.length - 1))] ?? null;

/** How values lie: 5 %, median, 95 %; nulls where there are none. */
export function spreadOf(values: readonly number[]): QuantityOfHome["water"][number] {
  const sorted = values.toSorted((a, b) => a - b);
  return {
    n: sorted.length,
    low: end(sorted, 0.05),
    median: sorted.length === 0 ? null : quantileOfSorted(sorted, 0.5),
    high: end(sorted, 0.95),
  };
}

/** Three-hour means of a stream, rising: [start, mean]; good readings only. At most 400 days at a time are asked of the store. */
export async function threeHourMeans(
  store: Store,
  stream: Stream,
  { from, to }: Span,
): Promise<(readonly [number, number])[]> {
  const means: (readonly [number, number])[] = [];
  for (let begin = from; begin < to; begin += 400 * DAY) {
    const { at, mean } = await store.readSeries({
      stream: stream.id,
      from: begin,
      to: Math.min(to, begin + 400 * DAY),
      resolution: "3h",
      limit: MOST_ROWS,
    });
    at.forEach((when, i) => {
      const value = mean[i] ?? null;
      if (value !== null) means.push([when, value]);
    });
  }
  return means;
}

/** Months of a stream as the spread of their three-hour means: 5 %, median, 95 %; good readings only. */
export async function monthlyWater(
  store: Store,
  stream: Stream,
  year: number,
  zone: string,
  { from, to }: Span,
): Promise<QuantityOfHome["water"]> {
  const means = await threeHourMeans(store, stream, { from, to });
  return siteMonths(year, zone).map((month) =>
    spreadOf(means.flatMap(([when, value]) => (when < month.from || when >= month.to ? [] : [value]))),
  );
}

/** Means of the site days of a stream, rising: [start, mean]. */
export async function dailyMeans(
  store: Store,
  stream: Stream,
  { from, to }: Span,
): Promise<(readonly [number, number])[]> {
  const { at, mean } = await store.readSeries({ stream: stream.id, from, to, resolution: "day", limit: 400 });
  return at.flatMap((when, i) => {
    const value = mean[i] ?? null;
    return value === null ? [] : [[when, value] as const];
  });
}

import { siteMonths } from "../../core/fit/index.ts";
import type { QuantityOfHome } from "../../core/wire/home-water.ts";
import type { Store, Stream } from "../../store/port.ts";
import type { Within } from "./fit-rows.ts";

const MOST_ROWS = 3_200;

const quantile = (sorted: readonly number[], share: number): number | null =>
  sorted[Math.round(share * (sorted.length - 1))] ?? null;

/** Months of a stream as the spread of their three-hour means: 5 %, median, 95 %; good readings only. */
export async function monthlyWater(
  store: Store,
  stream: Stream,
  year: number,
  zone: string,
  { from, to }: Within,
): Promise<QuantityOfHome["water"]> {
  const { at, mean } = await store.readSeries({
    stream: stream.id,
    from,
    to,
    resolution: "3h",
    limit: MOST_ROWS,
  });
  return siteMonths(year, zone).map((month) => {
    const values = at
      .flatMap((when, i) => {
        const value = mean[i] ?? null;
        return value === null || when < month.from || when >= month.to ? [] : [value];
      })
      .sort((a, b) => a - b);
    return {
      n: values.length,
      low: quantile(values, 0.05),
      median: quantile(values, 0.5),
      high: quantile(values, 0.95),
    };
  });
}

/** Means of the site days of a stream, rising: [start, mean]. */
export async function dailyMeans(
  store: Store,
  stream: Stream,
  { from, to }: Within,
): Promise<(readonly [number, number])[]> {
  const { at, mean } = await store.readSeries({ stream: stream.id, from, to, resolution: "day", limit: 400 });
  return at.flatMap((when, i) => {
    const value = mean[i] ?? null;
    return value === null ? [] : [[when, value] as const];
  });
}

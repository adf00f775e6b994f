import type { Span } from "#core/time/spans.ts";
import type { Store, Stream } from "#store/port.ts";
import type { Drawn } from "./series-columns.ts";

/** More derived values than this are not read to draw their intervals: ten weeks at a value in five minutes. */
const MOST = 20_000;

const least = (a: number | null | undefined, b: number) => (a == null ? b : Math.min(a, b));
const most = (a: number | null | undefined, b: number) => (a == null ? b : Math.max(a, b));

/**
 * Columns of a derived quantity with the interval of each: from the lowest low to the highest high of the values in it. Rollups know
 * values only, and a week is where one sees an interval widen with the age of the result carried in it. As it was where there are too
 * many values or none has an interval.
 */
export async function withIntervals(store: Store, stream: Stream, span: Span, drawn: Drawn): Promise<Drawn> {
  const { step, columns } = drawn;
  const expected = stream.interval === null ? 0 : (span.to - span.from) / stream.interval;
  if (stream.origin !== "derived" || step === null || drawn.resolution === "day" || expected > MOST)
    return drawn;
  const from = columns.at[0] ?? span.from;
  const rows = await store.readDerived(stream.id, from, span.to, MOST + 1);
  if (rows.length > MOST || rows.every((row) => row.low === null)) return drawn;
  const index = new Map(columns.at.map((at, i) => [at, i]));
  const low = columns.at.map((): number | null => null);
  const high = columns.at.map((): number | null => null);
  for (const row of rows) {
    const i = index.get(row.at - ((row.at - from) % step));
    if (i === undefined) continue;
    if (row.low !== null) low[i] = least(low[i], row.low);
    if (row.high !== null) high[i] = most(high[i], row.high);
  }
  return { ...drawn, columns: { ...columns, low, high } };
}

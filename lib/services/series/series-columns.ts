import { RAW_PAGE } from "#contract/api.ts";
import type { SeriesView } from "#contract/views.ts";
import { aheadBy, type ClockBook, offsetsIn } from "#core/gateway/clock-book.ts";
import { FLAG, type Flag } from "#core/quality/flag.ts";
import { WIDTH_OF } from "#core/quality/rollup.ts";
import type { Instant } from "#core/time/instant.ts";
import { siteDay } from "#core/time/site-time.ts";
import type { Span } from "#core/time/spans.ts";
import type { Resolution, SeriesColumns, Store, Stream } from "#store/port.ts";
import { readClockBook, readingsPlaced } from "../gateway/placed-readings.ts";

type Columns = SeriesView["columns"];
export interface Drawn {
  readonly resolution: Resolution;
  readonly step: number | null;
  readonly columns: Columns;
  readonly next: Instant | null;
}

/** Most rows that a range can have at a resolution: a bucket at each end may be cut; the shortest site day has 23 hours. */
export const mostRows = ({ from, to }: Span, width: number): number => Math.ceil((to - from) / width) + 1;

function columnsOf(read: SeriesColumns): Columns {
  const { at, min, mean, max, n, flag } = read;
  return { at, min, mean, max, n, flag };
}

function rawOf(
  rows: readonly { readonly at: Instant; readonly value: number; readonly flag: Flag }[],
  limit: number,
  more: (kept: number) => Partial<Columns>,
): Drawn {
  const kept = rows.slice(0, limit);
  const values = kept.map((row) => row.value);
  return {
    resolution: "raw",
    step: null,
    columns: {
      at: kept.map((row) => row.at),
      min: values,
      mean: values,
      max: values,
      n: kept.map(() => 1),
      flag: kept.map((row) => row.flag),
      ...more(kept.length),
    },
    next: rows[limit]?.at ?? null,
  };
}

/** Raw values from the table that the stream's origin is kept in; at most `limit`, `next` where there are more. */
export async function rawColumns(
  store: Store,
  stream: Stream,
  { from, to }: Span,
  limit: number,
): Promise<Drawn> {
  if (stream.origin === "bench") {
    const results = await store.benchBetween([stream.id], from, to, Number.MAX_SAFE_INTEGER);
    const rows = results.map(({ at, value }) => ({ at, value, flag: FLAG.notEvaluated as Flag }));
    return rawOf(rows, limit, (kept) => ({ qualifier: results.slice(0, kept).map((row) => row.qualifier) }));
  }
  if (stream.origin === "derived") {
    const [rows, flags] = await Promise.all([
      store.readDerived(stream.id, from, to, limit + 1),
      store.readFlags(stream.id, from, to, RAW_PAGE),
    ]);
    const flagAt = new Map(flags.map((row) => [row.at, row.flag]));
    const flagged = rows.map(({ at, value }) => ({ at, value, flag: flagAt.get(at) ?? (FLAG.pass as Flag) }));
    return rawOf(flagged, limit, (kept) => ({
      low: rows.slice(0, kept).map((row) => row.low),
      high: rows.slice(0, kept).map((row) => row.high),
    }));
  }
  const book = await readClockBook(store);
  if (offsetsIn(book, [stream.id]).length > 0) return placedColumns(store, stream, { from, to }, book, limit);
  const read = await store.readSeries({ stream: stream.id, from, to, resolution: "raw", limit });
  return { resolution: "raw", step: null, columns: columnsOf(read), next: read.next };
}

/** The same where people placed readings at another time than they were stamped with. */
async function placedColumns(
  store: Store,
  stream: Stream,
  span: Span,
  book: ClockBook,
  limit: number,
): Promise<Drawn> {
  const [readings, flags, cursor] = await Promise.all([
    readingsPlaced(store, book, [stream.id], span, Number.MAX_SAFE_INTEGER),
    store.readFlags(stream.id, span.from, span.to, RAW_PAGE),
    store.readCursor(),
  ]);
  const flagAt = new Map(flags.map((row) => [row.at, row.flag]));
  const rows = readings
    .map((reading) => {
      const at = reading.at - (aheadBy(book, reading) ?? 0);
      const unjudged: Flag = reading.received > cursor.received ? FLAG.notEvaluated : FLAG.pass;
      return { at, value: reading.value, flag: flagAt.get(at) ?? unjudged };
    })
    .sort((a, b) => a.at - b.at);
  return rawOf(rows, limit, () => ({}));
}

/** The rollup that holds `from` counts too: half a bucket at the edge of a chart is better than a gap. */
export async function rollupColumns(
  store: Store,
  stream: Stream,
  { to, ...asked }: Span,
  resolution: Exclude<Resolution, "raw">,
  zone: string,
): Promise<Drawn> {
  const width = WIDTH_OF[resolution];
  const from = resolution === "day" ? siteDay(asked.from, zone).start : asked.from - (asked.from % width);
  const limit = mostRows({ from, to }, width) + 1;
  const read = await store.readSeries({ stream: stream.id, from, to, resolution, limit });
  return { resolution, step: width, columns: columnsOf(read), next: read.next };
}

/** Joins neighbouring columns, `by` at a time: the extremes stay, means are weighed by count, the worst flag stands. */
export function joined(drawn: Drawn, by: number): Drawn {
  if (by <= 1) return drawn;
  const { at, min, mean, max, n, flag } = drawn.columns;
  const out: Columns = { at: [], min: [], mean: [], max: [], n: [], flag: [] };
  const numbers = (column: readonly (number | null)[], from: number) =>
    column.slice(from, from + by).filter((value): value is number => value !== null);
  for (let i = 0; i < at.length; i += by) {
    const [lows, highs, counts] = [numbers(min, i), numbers(max, i), n.slice(i, i + by)];
    const total = counts.reduce((sum, count) => sum + count, 0);
    const sum = counts.reduce((so, count, j) => so + count * (mean[i + j] ?? 0), 0);
    out.at.push(at[i] as Instant);
    out.min.push(lows.length > 0 ? Math.min(...lows) : null);
    out.max.push(highs.length > 0 ? Math.max(...highs) : null);
    out.mean.push(total > 0 ? sum / total : null);
    out.n.push(total);
    out.flag.push(Math.max(...flag.slice(i, i + by)));
  }
  return { ...drawn, columns: out, step: drawn.step === null ? null : drawn.step * by };
}

import { LONGEST_RANGE, RAW_PAGE, type SeriesQuery, USUAL_POINTS } from "#contract/api.ts";
import type { SeriesView } from "#contract/views.ts";
import { bandsOver } from "#core/habitat/index.ts";
import { WIDTH_OF } from "#core/quality/rollup.ts";
import { mainPoint } from "#core/set-up/point-role.ts";
import { DAY } from "#core/time/instant.ts";
import type { Span } from "#core/time/spans.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Store, Stream } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { AppError, invalid } from "../errors.ts";
import { lookUp, type SystemSetUp, systemOf } from "../set-up.ts";
import { type Drawn, joined, mostRows, rawColumns, rollupColumns } from "./series-columns.ts";
import { flaggedOf } from "./series-flags.ts";
import { withIntervals } from "./series-intervals.ts";

/** The stream meant; where parts are left out: the probe, in the exhibit, or the only one there is. */
function streamOf(at: SystemSetUp, { quantity, point, origin }: SeriesQuery): Stream {
  const ofQuantity = at.streams.filter((stream) => stream.quantity === quantity);
  const atPoint = ofQuantity.filter((stream) => point === undefined || stream.pointCode === point);
  const wanted = atPoint.filter((stream) => stream.origin === (origin ?? "probe"));
  const origins = new Set(atPoint.map((stream) => stream.origin));
  const candidates = origin === undefined && wanted.length === 0 && origins.size === 1 ? atPoint : wanted;
  const main = mainPoint(at.points)?.code;
  const found = candidates.find((stream) => stream.pointCode === main) ?? candidates[0];
  if (found && (candidates.length === 1 || found.pointCode === main)) return found;
  if (found) {
    const points = candidates.map((stream) => stream.pointCode).join(", ");
    throw invalid([
      {
        field: "point",
        value: null,
        says: `${quantity} is measured at several points`,
        remedy: `use one of ${points}`,
      },
    ]);
  }
  const known = [
    ...new Set(
      (ofQuantity.length > 0 ? ofQuantity : at.streams).map(
        (s) => `${s.quantity} at ${s.pointCode} (${s.origin})`,
      ),
    ),
  ];
  throw new AppError(
    "not_found",
    `${at.system.code} has no ${origin ?? "probe"} stream of ${quantity}${point === undefined ? "" : ` at ${point}`}. ` +
      (known.length === 0
        ? "It has no streams yet."
        : `It has ${known.slice(0, 20).join(", ")}${known.length > 20 ? " ..." : ""}.`),
  );
}

function spanOf(query: SeriesQuery, now: number): Span {
  const to = query.to ?? now;
  const from = query.from ?? to - DAY;
  if (from >= to)
    throw invalid([
      {
        field: "from",
        value: String(from),
        says: `is not before to (${to})`,
        remedy: "ask for a range that ends after it starts",
      },
    ]);
  if (to - from > LONGEST_RANGE)
    throw invalid([
      {
        field: "from",
        value: String(from),
        says: "is more than 20 years before to",
        remedy: "ask for at most 20 years",
      },
    ]);
  return { from, to };
}

/** Finest resolution whose columns cannot outnumber `points`; days are joined where even they would. */
async function fitted(
  store: Store,
  stream: Stream,
  span: Span,
  points: number,
  zone: string,
): Promise<Drawn> {
  // Raw is worth a try unless the expected cadence alone rules it out; a try reads one row more than fits.
  const expected = stream.interval === null ? 0 : (span.to - span.from) / stream.interval;
  const isBench = stream.origin === "bench";
  if (isBench || expected <= 2 * points) {
    const raw = await rawColumns(store, stream, span, points);
    if (raw.next === null) return raw;
    // Bench results have no rollups: neighbours are joined.
    if (isBench) {
      const all = await rawColumns(store, stream, span, RAW_PAGE);
      return joined(all, Math.ceil(all.columns.at.length / points));
    }
  }
  for (const resolution of ["15min", "3h"] as const) {
    if (mostRows(span, WIDTH_OF[resolution]) <= points)
      return rollupColumns(store, stream, span, resolution, zone);
  }
  const days = await rollupColumns(store, stream, span, "day", zone);
  return joined(days, Math.ceil(days.columns.at.length / points));
}

async function exactly(
  store: Store,
  stream: Stream,
  span: Span,
  resolution: SeriesView["resolution"],
  zone: string,
): Promise<Drawn> {
  if (resolution === "raw") return rawColumns(store, stream, span, RAW_PAGE);
  const rows = mostRows(span, WIDTH_OF[resolution]);
  if (rows > RAW_PAGE) {
    const says = `would give ${rows} columns, more than ${RAW_PAGE}`;
    throw invalid([
      {
        field: "resolution",
        value: resolution,
        says,
        remedy: "ask for a shorter range or a coarser resolution",
      },
    ]);
  }
  return rollupColumns(store, stream, span, resolution, zone);
}

/** One quantity of a system over a range, in at most `points` columns, or exactly the resolution asked for. */
export async function readSeries(deps: ReadDeps, code: string, query: SeriesQuery): Promise<SeriesView> {
  const { at, stream } = await lookUp(deps.setUp, (index) => {
    const system = systemOf(index, code);
    return { at: system, stream: streamOf(system, query) };
  });
  const span = spanOf(query, deps.clock());
  const drawn = query.resolution
    ? await exactly(deps.store, stream, span, query.resolution, at.site.zone)
    : await withIntervals(
        deps.store,
        stream,
        span,
        await fitted(deps.store, stream, span, query.points ?? USUAL_POINTS, at.site.zone),
      );
  const { resolution, step, columns, next } = drawn;
  const flagged = await flaggedOf(deps.store, stream, drawn);
  return {
    system: at.system.code,
    point: stream.pointCode,
    quantity: stream.quantity,
    ...labelOf(stream.quantity),
    origin: stream.origin,
    resolution,
    step,
    ...span,
    columns,
    ...(flagged === undefined ? {} : { flagged }),
    next,
    bands: bandsOver(at.bands, stream, at.site.zone, span.from, span.to),
  };
}

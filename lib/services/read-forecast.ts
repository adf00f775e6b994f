import { forecast, timeToLimit } from "../core/forecast/forecast.ts";
import { provenSlope } from "../core/forecast/path.ts";
import { bandFor, edgesAt } from "../core/habitat/index.ts";
import { DAY, HOUR } from "../core/time/instant.ts";
import { quantity } from "../core/units/index.ts";
import type { ForecastQuery, ForecastView } from "../core/wire/forecast.ts";
import { numberText } from "../core/wire/number-text.ts";
import type { RollupRow } from "../store/port.ts";
import type { ReadDeps } from "./deps.ts";
import { invalid, notFound } from "./errors.ts";
import { labelOf } from "./finding-view.ts";
import { QUARTER } from "./rollup-spans.ts";
import { systemOf } from "./set-up.ts";

/** Eight days make the course, fourteen of errors the interval. */
const READ = 24 * DAY;
const HORIZONS = [6, 24, 72] as const;

/** One mean an hour up to the hour that is over; NaN where nothing good was read. */
function hourly(rows: readonly RollupRow[], from: number, to: number): number[] {
  const count = Math.floor((to - from) / HOUR);
  const [sums, good] = [new Float64Array(count), new Float64Array(count)];
  for (const row of rows) {
    const hour = Math.floor((row.start - from) / HOUR);
    if (hour < 0 || hour >= count) continue;
    sums[hour] = (sums[hour] ?? 0) + row.sum;
    good[hour] = (good[hour] ?? 0) + row.good;
  }
  return Array.from(sums, (sum, i) => (good[i] === 0 ? Number.NaN : sum / (good[i] as number)));
}

type Limit = NonNullable<ForecastView["limits"]>[number];

function words(crossing: Pick<Limit, "earliest" | "latest" | "isStated">, what: string): string {
  const { earliest, latest, isStated } = crossing;
  if (earliest === null) return `${what} not within 7 days`;
  const until = latest === null ? "later than 7 days, if at all" : `${latest} h`;
  return `${what} between ${earliest} h and ${until} from now (${isStated ? "90 % interval" : "rough"})`;
}

/**
 * Where a probe's quantity will be in 6, 24 and 72 hours and when it reaches its action limits, with the coverage measured on this very stream.
 * Throws AppError "not_found", or "invalid" for what may not be forecast from a carried curve.
 */
export async function readForecast(
  deps: ReadDeps,
  code: string,
  query: ForecastQuery,
): Promise<ForecastView> {
  const now = deps.clock();
  const at = systemOf(await deps.setUp.read(), code);
  const point = query.point ?? "display";
  if (query.quantity === "unionised_ammonia")
    throw invalid([
      {
        field: "quantity",
        value: query.quantity,
        says: "is carried from the last test and is no measured course",
        remedy: "test total ammonia again: a forecast of ammonia rests on tests alone",
      },
    ]);
  const stream = at.streams.find(
    (row) =>
      row.quantity === query.quantity &&
      row.pointCode === point &&
      (row.origin === "probe" || row.origin === "derived"),
  );
  if (!stream || quantity(stream.quantity)?.kind !== "number")
    throw notFound(
      "probe",
      `${query.quantity} at ${point}`,
      "GET /api/v1/systems/{system} lists what is measured.",
    );
  const to = now - (now % HOUR);
  const from = to - READ;
  const [rows, findings] = await Promise.all([
    deps.store.readRollups({ streams: [stream.id], from, to, width: QUARTER }),
    deps.store.readFindings({ open: true, system: at.system.id, limit: 500 }),
  ]);
  const { label, unitLabel, decimals } = labelOf(stream.quantity);
  const first = rows.find((row) => row.good > 0);
  const hours = first ? hourly(rows, Math.max(from, first.start - (first.start % HOUR)), to) : [];
  const isDoubtful = findings.some(
    (row) =>
      row.stream === stream.id && (row.kind === "drifting" || row.kind === "stuck" || row.kind === "silent"),
  );
  const band = bandFor(at.bands, at.system.id, stream.quantity, point, now);
  const edges = band ? edgesAt(band.months, now, at.site.zone) : null;
  const slope = provenSlope(hours);
  const ahead = isDoubtful ? [] : HORIZONS.map((each) => forecast(hours, each));
  const limits: Limit[] = [];
  // A limit is spoken of only where a trend towards it is proven.
  for (const [limit, side] of [
    [edges?.actionHigh ?? null, 1],
    [edges?.actionLow ?? null, -1],
  ] as const) {
    if (limit === null || isDoubtful) continue;
    const what = `${label} ${numberText(limit, decimals)}${unitLabel === "" ? "" : ` ${unitLabel}`}`;
    const crossing = slope * side > 0 ? timeToLimit(hours, limit, side) : null;
    const said = crossing ?? { earliest: null, latest: null, isStated: true };
    limits.push({ limit, side: side > 0 ? "high" : "low", ...said, says: words(said, what) });
  }
  return {
    now,
    zone: at.site.zone,
    system: at.system.code,
    point,
    quantity: stream.quantity,
    label,
    unitLabel,
    decimals,
    perDay: slope,
    ahead: ahead.filter((row) => row.value !== null),
    limits,
    says: saysOf(
      isDoubtful,
      hours.length,
      ahead.some((row) => row.value !== null),
      slope,
    ),
  };
}

function saysOf(isDoubtful: boolean, count: number, isKnown: boolean, slope: number): string {
  if (isDoubtful) return "No forecast: the probe itself is in doubt.";
  if (!isKnown) return `No forecast: two days of readings are needed, there are ${count} hours.`;
  return slope === 0
    ? "No trend is proven over seven days: level and time of day only."
    : "A trend over seven days is proven and goes on, damped.";
}

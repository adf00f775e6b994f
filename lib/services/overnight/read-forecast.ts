import type { ForecastQuery, ForecastView } from "#contract/forecast.ts";
import { crossingWords } from "#core/forecast/crossing-words.ts";
import { forecast } from "#core/forecast/forecast.ts";
import { provenSlope } from "#core/forecast/path.ts";
import { inDays, soon } from "#core/forecast/time-left.ts";
import { edgesFor } from "#core/habitat/index.ts";
import { mainPoint } from "#core/set-up/point-role.ts";
import { quantity } from "#core/units/index.ts";
import { edgeWithUnit } from "#core/units/number-text.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { ReadDeps } from "../deps.ts";
import { invalid, notFound } from "../errors.ts";
import { systemOf } from "../set-up.ts";
import { eventBegan, isDoubtful, isFast, readEvents, readHours, readRecent, recentSince } from "./ahead.ts";

const HORIZONS = [6, 24, 72] as const;

type Limit = NonNullable<ForecastView["limits"]>[number];

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
  const point = query.point ?? mainPoint(at.points)?.code ?? "the exhibit";
  if (query.quantity === "unionised_ammonia")
    throw invalid([
      {
        field: "quantity",
        value: query.quantity,
        says: "is carried over from the last test, so it has no measured course",
        remedy: "test total ammonia again: ammonia can be followed by tests only",
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
  const [currents, findings] = await Promise.all([
    deps.store.readCurrent(),
    deps.store.readFindings({ open: true, system: at.system.id, limit: 500 }),
  ]);
  const own = findings.filter((row) => row.stream === stream.id);
  const since = new Map([[stream.id, recentSince(own, now)]]);
  const began = eventBegan(own);
  const [weeks, last, events] = await Promise.all([
    readHours(deps.store, [stream.id], now),
    readRecent(deps.store, since, now),
    readEvents(deps.store, began === null ? [] : [{ stream: stream.id, origin: stream.origin, began }], now),
  ]);
  const hours = weeks.get(stream.id) ?? [];
  const current = currents.find((row) => row.stream === stream.id);
  const { label, unitLabel, decimals } = labelOf(stream.quantity);
  const isDoubted = own.some(isDoubtful);
  const edges = edgesFor(at, stream.quantity, point, now);
  const slope = provenSlope(hours);
  const ahead = isDoubted ? [] : HORIZONS.map((each) => forecast(hours, each));
  const heading = {
    value: current?.value ?? null,
    rate: current?.rate ?? null,
    deviation: current?.deviation ?? null,
    band: edges,
    isFast: own.some(isFast),
    recent: last.get(stream.id) ?? [],
    event: events.get(stream.id),
  };
  const limits: Limit[] = [];
  // As on the page of the night: by the last hours where they prove a course, else by a trend of seven days.
  for (const [limit, side] of [
    [edges?.actionHigh ?? null, 1],
    [edges?.actionLow ?? null, -1],
  ] as const) {
    if (limit === null || isDoubted) continue;
    const what = `${label} ${edgeWithUnit(limit, decimals, unitLabel)}`;
    const crossing = soon(heading, limit, side) ?? inDays(hours, limit, side);
    const said = crossing ?? { earliest: null, latest: null, isStated: false };
    limits.push({ limit, side: side > 0 ? "high" : "low", ...said, says: crossingWords(crossing, what) });
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
      isDoubted,
      hours.length,
      ahead.some((row) => row.value !== null),
      slope,
    ),
  };
}

function saysOf(isDoubtful: boolean, count: number, isKnown: boolean, slope: number): string {
  if (isDoubtful) return "No forecast: the probe itself is suspect.";
  if (!isKnown) return `No forecast: it needs two days of readings, and there are ${count} hours so far.`;
  return slope === 0
    ? "No trend is proven over seven days: the forecast uses level and time of day only."
    : "A seven-day trend is proven; the forecast continues it, damped.";
}

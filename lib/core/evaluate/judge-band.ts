/** Compares one good value with its target band: deviation, and the conditions "above" and "below". */
import type { Level } from "../alarms/finding.ts";
import { type BandEdges, censoredDeviation, deviation, edgesWithin } from "../habitat/index.ts";
import type { Instant } from "../time/instant.ts";
import type { MonthBracket } from "../time/site-time.ts";
import type { StreamSettings } from "./settings.ts";

/** The edges in force for a stream at an instant; null where no band is set. */
export function edgesFor(
  settings: StreamSettings,
  at: Instant,
  bracketAt: (at: Instant) => MonthBracket,
): BandEdges | null {
  const band = bandInForce(settings, at);
  if (!band) return null;
  const only = band.months[0];
  return band.months.length === 1 && only ? only : edgesWithin(band.months, at, bracketAt(at));
}

/** The band in force: a point's own before the system's, then the one that began last, then the one recorded last. */
export function bandInForce(
  settings: StreamSettings,
  at: Instant,
): StreamSettings["bands"][number] | undefined {
  let best: StreamSettings["bands"][number] | undefined;
  for (const band of settings.bands) {
    if (band.validFrom > at || (band.validTo !== null && at >= band.validTo)) continue;
    if (!best) best = band;
    else if ((band.point === null) !== (best.point === null)) best = band.point === null ? best : band;
    else if (band.validFrom > best.validFrom) best = band;
    else if (band.validFrom === best.validFrom && band.recordedAt > best.recordedAt) best = band;
  }
  return best;
}

export function deviationOf(value: number, mark: "below" | "above" | null, edges: BandEdges): number | null {
  return mark === null ? deviation(value, edges) : censoredDeviation(value, mark, edges);
}

/** How serious a value is on one side: 1 past the edge, 2 at the action limit or past it, 3 past the urgent limit. */
export function levelOnSide(side: "high" | "low", value: number, edges: BandEdges): Level {
  const sign = side === "high" ? 1 : -1;
  const [edge, action, urgent] =
    side === "high"
      ? [edges.high, edges.actionHigh, edges.urgentHigh]
      : [edges.low, edges.actionLow, edges.urgentLow];
  if (edge === null || !(sign * (value - edge) > 0)) return 0;
  if (urgent !== null && sign * (value - urgent) >= 0) return 3;
  return action !== null && sign * (value - action) >= 0 ? 2 : 1;
}

const DEADBAND_SHARE = 0.02;
/** Noise of the stream itself moves the deadband to no more than this share of the band. */
const NOISE_SHARE = 0.1;

/** Width of the band; one-sided: as far inside its edge as its action limit is outside. 0 where neither is set. */
function widthOf({ low, high, actionLow, actionHigh }: BandEdges): number {
  if (low !== null && high !== null) return high - low;
  if (high !== null && actionHigh !== null) return 2 * (actionHigh - high);
  return low !== null && actionLow !== null ? 2 * (low - actionLow) : 0;
}

/**
 * How far back inside a value must be before it counts as back: two hundredths of the band's width or what its readings usually differ by from one to
 * the next (`noise`, 0 where that is not known), at least half the last digit shown. Our own rule, so that noise at an edge neither opens nor
 * closes findings.
 */
export function deadband(edges: BandEdges, decimals: number, noise: number): number {
  const width = widthOf(edges);
  const ofNoise = width === 0 ? noise : Math.min(noise, NOISE_SHARE * width);
  return Math.max(0.5 * 10 ** -decimals, DEADBAND_SHARE * width, ofNoise);
}

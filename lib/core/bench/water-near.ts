import { HOUR, type Instant, MINUTE } from "../time/instant.ts";
import type { WaterInput } from "./ammonia.ts";

/** A probe's reading speaks for a sample taken this close to it; a bench result keeps longer (pH moves over a day, salinity hardly). Common practice, no source. */
export const PROBE_NEAR = 30 * MINUTE;
export const BENCH_NEAR = 24 * HOUR;

/** What was read of the water, where it still speaks for a sample taken at `moment`; undefined where it does not. */
export function nearSample(read: WaterInput | null, moment: Instant): WaterInput | undefined {
  if (read === null) return undefined;
  if (read.at === null) return read;
  const away = moment - read.at;
  if (read.origin === "probe") return Math.abs(away) <= PROBE_NEAR ? read : undefined;
  return away >= 0 && away <= BENCH_NEAR ? read : undefined;
}

/**
 * Least-squares slope of a series, in units an hour. `t` rising UTC milliseconds, `v` values, both used from index `from` on.
 * Null where fewer than three readings lie in the window or they span less than 80 % of it (a slope from a stub proves nothing;
 * our own rule). Source: ordinary least squares, e.g. NIST/SEMATECH e-Handbook 4.1.4.1.
 */
import { HOUR } from "../time/instant.ts";

const LEAST_READINGS = 3;
const LEAST_SPAN = 0.8;

export function slopePerHour(
  t: readonly number[],
  v: readonly number[],
  windowMs: number,
  first = 0,
): number | null {
  const last = t.length - 1;
  if (last < first) return null;
  const now = t[last] as number;
  let start = last;
  while (start > first && now - (t[start - 1] as number) <= windowMs) start--;
  const n = last - start + 1;
  if (n < LEAST_READINGS || now - (t[start] as number) < LEAST_SPAN * windowMs) return null;
  let sumX = 0;
  let sumY = 0;
  for (let i = start; i <= last; i++) {
    sumX += (t[i] as number) - now;
    sumY += v[i] as number;
  }
  const meanX = sumX / n;
  const meanY = sumY / n;
  let sxy = 0;
  let sxx = 0;
  for (let i = start; i <= last; i++) {
    const dx = (t[i] as number) - now - meanX;
    sxy += dx * ((v[i] as number) - meanY);
    sxx += dx * dx;
  }
  return (sxy / sxx) * HOUR;
}

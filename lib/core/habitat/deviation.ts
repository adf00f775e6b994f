import type { BandEdges } from "./band.ts";

/** An open side can want a look but never demands action: its deviation stays below 1. */
const OPEN_SIDE_MOST = 0.99;

function scale(edge: number, limit: number | null, other: number | null): { width: number; open: boolean } {
  if (limit !== null) return { width: Math.abs(limit - edge), open: false };
  const width = other === null ? Math.abs(edge) / 2 : Math.abs(edge - other) / 2;
  return { width, open: true };
}

/**
 * Signed deviation of a value from its target band: 0 inside; outside, the distance past the edge divided by the distance from
 * that edge to the action limit (1 = at the limit). A side without an action limit is measured in half band widths (one-sided:
 * half the edge's magnitude) and never exceeds 0.99. Null where the band has no edge at all, or the value is not finite.
 */
export function deviation(value: number, edges: BandEdges): number | null {
  if (!Number.isFinite(value) || (edges.low === null && edges.high === null)) return null;
  if (edges.high !== null && value > edges.high)
    return past(value - edges.high, scale(edges.high, edges.actionHigh, edges.low));
  if (edges.low !== null && value < edges.low)
    return -past(edges.low - value, scale(edges.low, edges.actionLow, edges.high));
  return 0;
}

function past(distance: number, { width, open }: { width: number; open: boolean }): number {
  const share = width > 0 ? distance / width : OPEN_SIDE_MOST;
  return open ? Math.min(OPEN_SIDE_MOST, share) : share;
}

/**
 * Deviation of a censored result. "Below x" is in band where even x is inside; above the edge it is *not proven* (null) and no
 * evidence. "Above x" is out of band where x is, else not proven.
 */
export function censoredDeviation(value: number, sign: "below" | "above", edges: BandEdges): number | null {
  const at = deviation(value, edges);
  if (at === null) return null;
  if (sign === "below") {
    if (at > 0) return null;
    return edges.low === null || edges.low <= 0 ? 0 : at < 0 ? at : null;
  }
  if (at < 0) return null;
  return at > 0 ? at : edges.high === null ? 0 : null;
}

/** Where a quantity is heading. Pure: value, rate and band are arguments. */
import type { BandEdges } from "../habitat/band.ts";

/** A quantity now; value and edges in the quantity's own unit, `rate` in units an hour over the last two hours. */
export interface Moving {
  readonly value: number | null;
  readonly rate: number | null;
  /** Signed; 0 in the band. Null where not proven. */
  readonly deviation: number | null;
  readonly band: BandEdges | null;
}
export type Course = "worse" | "steady" | "recovering";

/** What is called movement: a tenth of the way from edge to action limit in twelve hours. Our own rule; less is noise. */
const MOVES = 0.1;
const AHEAD_HOURS = 12;

const finite = (value: number | null): value is number => value !== null && Number.isFinite(value);

/** The side a quantity is out on, or is heading for while it is in band: 1 high, -1 low, 0 neither. */
export function sideOf({ rate, deviation }: Moving): -1 | 0 | 1 {
  const sign = deviation !== null && deviation !== 0 ? deviation : (rate ?? 0);
  return sign > 0 ? 1 : sign < 0 ? -1 : 0;
}

/** The edge of a band on a side (1 high, -1 low); null where there is none. */
export const edgeOf = (band: BandEdges, side: number) => (side > 0 ? band.high : band.low);
/** The action limit of a band on a side; null where there is none. */
export const limitOf = (band: BandEdges, side: number) => (side > 0 ? band.actionHigh : band.actionLow);

/** From edge to action limit on a side; where a side has no limit, half the band's width; null where neither is set. */
function unitOf(band: BandEdges, side: number): number | null {
  const [edge, limit] = [edgeOf(band, side), limitOf(band, side)];
  if (finite(edge) && finite(limit)) return Math.abs(limit - edge);
  if (finite(band.low) && finite(band.high)) return (band.high - band.low) / 2;
  return finite(edge) && edge !== 0 ? Math.abs(edge) / 2 : null;
}

/** Whether a quantity gets worse, stays as it is or comes back to its band. Steady where rate, band or the value itself are not known. */
export function courseOf(moving: Moving): Course {
  const { rate, deviation, band } = moving;
  const side = sideOf(moving);
  const unit = band === null ? null : unitOf(band, side);
  if (!finite(rate) || deviation === null || unit === null || unit === 0 || side === 0) return "steady";
  const ahead = (rate * side * AHEAD_HOURS) / unit;
  if (ahead >= MOVES) return "worse";
  return ahead <= -MOVES && deviation !== 0 ? "recovering" : "steady";
}

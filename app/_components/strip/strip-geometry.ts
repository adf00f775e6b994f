import type { BandEdges } from "#core/habitat/band.ts";

/**
 * Where things lie on a strip. One scale serves every quantity: -1 low action limit, -0.5 low edge of the target band,
 * +0.5 high edge, +1 high action limit, linear between. So a mark at 0.75 is halfway to the limit, whatever is measured.
 */
export interface StripScale {
  /** Position of a value, not clamped: beyond -1 or 1 is past the limit (or the end of an open side). */
  readonly position: (value: number) => number;
  /** Ends of the drawn target band. */
  readonly from: number;
  readonly to: number;
  /** What each end of the strip is: an action limit, open (no limit set), a floor below which nothing lies, or the band itself going on. */
  readonly lowEnd: "limit" | "open" | "floor";
  readonly highEnd: "limit" | "open" | "band";
}

/** The least value a one-sided quantity can usefully have: gas pressure is counted from saturation, the rest from nothing. */
export function floorOf(quantity: string): number {
  return quantity === "total_gas_pressure" ? 100 : 0;
}

const width = (a: number, b: number): number => (b > a ? b - a : Math.max(Math.abs(a), 1) / 2);

/**
 * The scale of a band, or null where it has no edge at all. A side without an action limit is open and takes half the
 * band's width for its distance (one-sided: half the edge's magnitude), as the deviation does. A band that only has a
 * high edge, or whose low edge is the floor itself, starts at its floor; one that only has a low edge runs on to the right.
 */
export function stripScale(band: BandEdges, floor: number): StripScale | null {
  const { low, high, actionLow, actionHigh } = band;
  if (high !== null && actionLow === null && (low === null || low <= floor)) {
    const start = high > floor ? floor : high - Math.max(Math.abs(high), 1);
    const open = (low === null ? Math.max(Math.abs(high), 1e-9) : width(low, high)) / 2;
    const beyond = actionHigh === null ? open : width(high, actionHigh);
    return {
      position: (v) =>
        v <= high ? -1 + (1.5 * (v - start)) / (high - start) : 0.5 + (0.5 * (v - high)) / beyond,
      from: -1,
      to: 0.5,
      lowEnd: "floor",
      highEnd: actionHigh === null ? "open" : "limit",
    };
  }
  if (low !== null && high === null) {
    const reach = Math.max(Math.abs(low), 1e-9) / 2;
    const below = actionLow === null ? reach : width(actionLow, low);
    return {
      position: (v) => (v < low ? -0.5 - (0.5 * (low - v)) / below : -0.5 + Math.min(1.5, (v - low) / reach)),
      from: -0.5,
      to: 1,
      lowEnd: actionLow === null ? "open" : "limit",
      highEnd: "band",
    };
  }
  if (high === null) return null;
  const bottom = low ?? floor;
  const span = width(bottom, high);
  const below = actionLow === null ? span / 2 : width(actionLow, bottom);
  const above = actionHigh === null ? span / 2 : width(high, actionHigh);
  return {
    position: (v) => {
      if (v < bottom) return -0.5 - (0.5 * (bottom - v)) / below;
      if (v > high) return 0.5 + (0.5 * (v - high)) / above;
      return -0.5 + (v - bottom) / span;
    },
    from: -0.5,
    to: 0.5,
    lowEnd: actionLow === null ? "open" : "limit",
    highEnd: actionHigh === null ? "open" : "limit",
  };
}

/** Size of the drawing in its own units; the style sheet scales it. */
export const STRIP = { width: 112, height: 22, margin: 9, reach: 1.12 } as const;

/** Horizontal place of a position; marks past the ends stop at the rim, where an arrow says that they lie beyond. */
export function placeOf(position: number): number {
  const { width: w, margin, reach } = STRIP;
  const held = Math.max(-reach, Math.min(reach, position));
  return Math.round((margin + ((held + reach) / (2 * reach)) * (w - 2 * margin)) * 10) / 10;
}

/** True where a mark had to stop at the rim. */
export const isBeyond = (position: number): boolean => Math.abs(position) > STRIP.reach;

/** Hours ahead that the tail shows: where the value would be if it went on at its rate. */
export const TAIL_HOURS = 2;

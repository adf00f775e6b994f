/** A site as a night's test describes it: what is built, who sends, and how the water goes. */
import { Temporal } from "temporal-polyfill";
import type { PointRole } from "#core/set-up/point-role.ts";
import type { SystemType } from "#core/set-up/system-type.ts";
import type { Instant } from "#core/time/instant.ts";
import type { QuantityId } from "#core/units/index.ts";
import type { BandEdges } from "#store/port.ts";
import type { Course, WordCourse } from "./courses.ts";

/** Low and high edge of the target band, then low and high action limit. */
export type Band = readonly [
  low: number | null,
  high: number | null,
  actionLow: number | null,
  actionHigh: number | null,
];

export interface ProbeDescription {
  readonly gateway: string;
  /** Milliseconds between readings. */
  readonly every: number;
  readonly critical?: boolean;
  /** A number, or the word of a state; with noise of `noise` (standard deviation), rounded to `decimals`. */
  readonly course: Course | WordCourse;
  readonly noise?: number;
  readonly decimals?: number;
}
export interface PointDescription {
  readonly role?: PointRole;
  readonly twinOf?: string;
  readonly probes: Partial<Record<QuantityId, ProbeDescription>>;
}
export interface SystemDescription {
  readonly name: string;
  readonly kind: string;
  readonly water: "fresh" | "brackish" | "marine";
  /** m3 and m3/h */
  readonly volume: number;
  readonly duty?: number;
  readonly type?: SystemType;
  readonly opened?: Instant;
  readonly points: Readonly<Record<string, PointDescription>>;
  /** In the quantity's unit; for every point without a band of its own, or "point/quantity" for one. Twelve: month by month. */
  readonly bands?: Readonly<Record<string, Band | readonly Band[]>>;
}
export interface GatewayDescription {
  /** What its clock is ahead of true time by, ms; below 0: behind. */
  readonly ahead?: number | ((at: Instant) => number);
  /** How long a reading is on its way, ms. */
  readonly delay?: number;
  /** It keeps what it reads in these spans and sends it at their end, oldest first. */
  readonly away?: readonly (readonly [from: Instant, to: Instant])[];
  /** It sends nothing in these spans and keeps nothing. */
  readonly dead?: readonly (readonly [from: Instant, to: Instant])[];
  /** It collects readings and sends them together, every so many ms. */
  readonly block?: number;
}
export interface LoopDescription {
  readonly name: string;
  readonly kind: string;
  readonly systems: readonly string[];
}
export interface SiteDescription {
  readonly code: string;
  readonly name: string;
  readonly zone: string;
  readonly latitude: number;
  readonly longitude: number;
  readonly elevation: number;
  readonly systems: Readonly<Record<string, SystemDescription>>;
  readonly gateways: Readonly<Record<string, GatewayDescription>>;
  readonly loops?: Readonly<Record<string, LoopDescription>>;
}

export const edgesOf = ([low, high, actionLow, actionHigh]: Band): BandEdges => ({
  low,
  high,
  actionLow,
  actionHigh,
  urgentLow: null,
  urgentHigh: null,
});

/** An instant from wall time of the site, "2026-11-03 21:40". */
export function wallTime(text: string, zone: string): Instant {
  return Temporal.PlainDateTime.from(text.replace(" ", "T")).toZonedDateTime(zone).epochMilliseconds;
}

/** What a team adopts or loads about home water: a series of its own, set-points by week, a light schedule. */
import type { Instant } from "../time/instant.ts";

/** Twelve monthly values of a home water kept by the team: its own logger, a shore station. It comes before a climatology. */
export interface HomeWaterSeries {
  readonly id: string;
  readonly name: string;
  readonly latitude: number;
  readonly longitude: number;
  readonly quantity: string;
  /** Mid-month values January to December in the quantity's unit, with the spread where known. */
  readonly months: readonly { readonly value: number; readonly spread: number | null }[];
  readonly source: string;
  readonly recordedAt: Instant;
  readonly recordedBy: string;
  readonly reason: string;
  readonly withdrawnAt: Instant | null;
}
/** Set-points by week as a person adopted them; a proposal to people, never a command to a controller. */
export interface SeasonPlan {
  readonly id: string;
  readonly system: string;
  readonly quantity: string;
  /** [instant, value in the quantity's unit], rising; linear between. */
  readonly setPoints: readonly (readonly [Instant, number])[];
  readonly validFrom: Instant;
  readonly validTo: Instant | null;
  readonly adoptedBy: string;
  readonly adoptedAt: Instant;
  readonly reason: string;
  readonly source: string;
}
/** A light schedule as planned. */
export interface LightPlan {
  readonly id: string;
  readonly system: string;
  /** Hours of light on the 15th of each month (1 value: all year) and the local clock time of their middle. */
  readonly hours: readonly number[];
  readonly middle: string;
  /** Home latitude it follows, null where it follows none; days by which its calendar is shifted against the site's. */
  readonly latitude: number | null;
  readonly shiftDays: number;
  readonly validFrom: Instant;
  readonly validTo: Instant | null;
  readonly setBy: string;
  readonly recordedAt: Instant;
  readonly reason: string;
  readonly source: string;
}

/**
 * Fouling and drift of a probe between two visits, taken back in proportion to the time since the first. Source: Wagner and others 2006,
 * Guidelines and standard procedures for continuous water-quality monitors, USGS Techniques and Methods 1-D3.
 */

import type { Instant } from "../time/instant.ts";
import { forQuantity, type NumberQuantityId } from "../units/quantity.ts";
import type { NewCalibration, Standard } from "./calibration.ts";

/** The error a visit found; true minus shown, in the stream's unit. */
export interface FoundError {
  /** What cleaning changed, less what the water itself did meanwhile. */
  readonly fouling: number;
  /** What a standard showed after that: of one, or of the nearer to the reading of two; 0 where none was read. */
  readonly drift: number;
  readonly total: number;
}

/** Null where neither cleaning nor a standard was read. `near`: a reading in the water, which picks the nearer of two standards. */
export function foundError(
  visit: Pick<NewCalibration, "before" | "after" | "moved" | "standards">,
  near: number | null = visit.after ?? visit.before,
): FoundError | null {
  const { before, after, moved, standards } = visit;
  if ((before === null || after === null) && standards.length === 0) return null;
  const fouling = before !== null && after !== null ? after - before - (moved ?? 0) : 0;
  const drift = near === null ? driftOf(standards[0]) : driftAt(standards, near);
  return { fouling, drift, total: fouling + drift };
}

const driftOf = (standard: Standard | undefined): number => (standard ? standard.value - standard.read : 0);

/** The error at a reading: between two standards in proportion, of one standard everywhere the same. */
function driftAt(standards: readonly Standard[], reading: number): number {
  const [low, high] = pairOf(standards) ?? [];
  if (!low || !high) return driftOf(standards[0]);
  return rescaled(reading, low, high, 1) - reading;
}

/** The lowest and highest standard; null where they are fewer than two or read the same. */
function pairOf(standards: readonly Standard[]): readonly [Standard, Standard] | null {
  const sorted = [...standards].sort((a, b) => a.value - b.value);
  const low = sorted[0];
  const high = sorted.at(-1);
  if (!low || !high || low.value === high.value || !(high.read > low.read)) return null;
  return [low, high];
}

/** A reading on the scale that ran, at `share` of the way, from true at the first visit to what the standards showed at the second. */
function rescaled(value: number, low: Standard, high: Standard, share: number): number {
  const atLow = low.value + share * (low.read - low.value);
  const atHigh = high.value + share * (high.read - high.value);
  return low.value + ((value - atLow) / (atHigh - atLow)) * (high.value - low.value);
}

export interface Spread {
  readonly from: Instant;
  readonly to: Instant;
  readonly fouling: number;
  readonly standards: readonly Standard[];
}

/**
 * A reading of instant `at` corrected, in its own unit: nothing at `from`, everything at `to`, linear between; outside that span the reading
 * itself. Fouling is added first, then one standard shifts and two rescale.
 */
export function corrected(value: number, at: Instant, spread: Spread): number {
  const { from, to, fouling, standards } = spread;
  if (!(to > from) || at < from || at > to) return value;
  const share = (at - from) / (to - from);
  const clean = value + share * fouling;
  const pair = pairOf(standards);
  return pair ? rescaled(clean, pair[0], pair[1], share) : clean + share * driftOf(standards[0]);
}

/** What a visit found at one point of the range. */
export interface FoundPoint {
  /** What the standard is worth; null: in the water itself. */
  readonly standard: number | null;
  readonly read: number;
  /** True minus shown, in the stream's unit. */
  readonly error: number;
}

/** The errors of a visit in each standard, and in the water where the probe was read in it. */
export function foundPoints(visit: Parameters<typeof foundError>[0]): readonly FoundPoint[] {
  const { standards, before, after } = visit;
  const inStandards = standards.map(({ value, read }) => ({ standard: value, read, error: value - read }));
  const read = before ?? after;
  const found = foundError(visit, read);
  return read === null || !found
    ? inStandards
    : [...inStandards, { standard: null, read, error: found.total }];
}

/**
 * The worst of these points: by the grade of the criteria that cover the quantity, and of the same grade the largest error. Null without a
 * point. A probe that is right in one standard and far off in the other is far off.
 */
export function worstPoint(
  quantity: string,
  points: readonly FoundPoint[],
): (FoundPoint & { readonly grade: Grade | null }) | null {
  const judged = points.map((point) => ({
    ...point,
    grade: judgeError(quantity, point.error, point.standard ?? point.read)?.grade ?? null,
  }));
  const rank = (grade: Grade | null) => (grade === null ? -1 : GRADES.indexOf(grade));
  const [worst] = judged.sort(
    (a, b) => rank(b.grade) - rank(a.grade) || Math.abs(b.error) - Math.abs(a.error),
  );
  return worst ?? null;
}

/**
 * The line through the lowest and highest standard as read: `slope` in percent of the true one, `offset` is what the probe showed too much
 * (negative: too little) in the lowest, in its unit. Null with fewer than two standards.
 */
export function lineFound(
  standards: readonly Standard[],
): { readonly slope: number; readonly offset: number } | null {
  const sorted = [...standards].sort((a, b) => a.value - b.value);
  const [low, high] = [sorted[0], sorted.at(-1)];
  if (!low || !high || low.value === high.value) return null;
  return { slope: ((high.read - low.read) / (high.value - low.value)) * 100, offset: low.read - low.value };
}

/** When an error is worth correcting and how good the record is after it; the larger of an amount and a percentage counts. */
export interface Grading {
  readonly correct: { readonly amount: number; readonly percent: number };
  readonly grades: readonly (readonly [grade: "excellent" | "good" | "fair", upTo: number])[];
  readonly isPercent: boolean;
}

const same = (upTo: readonly [number, number, number]): Grading["grades"] => [
  ["excellent", upTo[0]],
  ["good", upTo[1]],
  ["fair", upTo[2]],
];
const CONDUCTIVITY: Grading = {
  correct: { amount: 5, percent: 3 },
  grades: same([3, 10, 15]),
  isPercent: true,
};
/** Source: USGS TM 1-D3, tables of correction criteria and of accuracy ratings; the figures are from memory. The manual speaks of no other. */
const GRADINGS: Partial<Record<NumberQuantityId, Grading>> = {
  temperature: { correct: { amount: 0.2, percent: 0 }, grades: same([0.2, 0.5, 0.8]), isPercent: false },
  specific_conductance: CONDUCTIVITY,
  dissolved_oxygen: { correct: { amount: 0.3, percent: 0 }, grades: same([0.3, 0.5, 0.8]), isPercent: false },
  ph: { correct: { amount: 0.2, percent: 0 }, grades: same([0.2, 0.5, 0.8]), isPercent: false },
  turbidity: { correct: { amount: 0.5, percent: 5 }, grades: same([5, 10, 15]), isPercent: true },
};

export type Grade = "excellent" | "good" | "fair" | "poor";
const GRADES: readonly Grade[] = ["excellent", "good", "fair", "poor"];

/**
 * Whether an error is worth correcting by the published criteria, and how the corrected record is rated; null for quantities they do
 * not cover. `value`: a reading near it, for percentages.
 */
export function judgeError(
  quantity: string,
  error: number,
  value: number,
): { readonly worthCorrecting: boolean; readonly grade: Grade } | null {
  const grading = forQuantity(GRADINGS, quantity);
  if (!grading) return null;
  const { amount, percent } = grading.correct;
  const size = Math.abs(error);
  const worthCorrecting = size > Math.max(amount, (percent / 100) * Math.abs(value));
  const measure = grading.isPercent ? (size / Math.abs(value)) * 100 : size;
  const grade = grading.grades.find(([, upTo]) => measure <= upTo)?.[0] ?? "poor";
  return { worthCorrecting, grade };
}

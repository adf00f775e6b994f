/** What is done to a probe and what it read before and after: rows that are never changed. */
import type { Instant } from "../time/instant.ts";

export const CALIBRATION_KINDS = ["calibration", "cleaning", "replacement"] as const;
export type CalibrationKind = (typeof CALIBRATION_KINDS)[number];

/** A buffer, standard or second instrument: what it is worth and what the probe read in it before it was adjusted, in the stream's unit. */
export interface Standard {
  readonly value: number;
  readonly read: number;
}
export interface NewCalibration {
  readonly id: string;
  readonly clientId: string;
  readonly stream: number;
  readonly kind: CalibrationKind;
  /** Out of the water, and back in it. */
  readonly from: Instant;
  readonly at: Instant;
  /** In the tank's own water before and after cleaning, and by how much that water moved meanwhile by another instrument. */
  readonly before: number | null;
  readonly after: number | null;
  readonly moved: number | null;
  readonly standards: readonly Standard[];
  /** Of a pH electrode, percent of the theoretical one. */
  readonly slope: number | null;
  /** Of a pH electrode, mV at pH 7. */
  readonly offset: number | null;
  /** Serial number, buffer lot. */
  readonly item: string | null;
  readonly note: string;
  readonly by: string;
  readonly byId: string;
  readonly entered: Instant;
}
/** Entered by mistake: it counts nowhere, and stays. */
export interface CalibrationVoid {
  readonly id: string;
  readonly clientId: string;
  readonly calibration: string;
  readonly by: string;
  readonly byId: string;
  readonly reason: string;
  readonly at: Instant;
  readonly received: Instant;
}
export interface Calibration extends NewCalibration {
  readonly received: Instant;
  readonly voided: CalibrationVoid | null;
}

/**
 * What the readings between two visits are to be corrected by: kept apart from them, void with the calibration it came from. Raw readings
 * are never touched.
 */
export interface NewCorrection {
  readonly id: string;
  readonly calibration: string;
  readonly stream: number;
  /** The visit before, and this one. */
  readonly from: Instant;
  readonly to: Instant;
  /** Error found at the second visit, true minus shown, in the stream's unit. */
  readonly fouling: number;
  readonly standards: readonly Standard[];
  readonly by: string;
  readonly byId: string;
  readonly reason: string;
}
export interface Correction extends NewCorrection {
  readonly received: Instant;
}

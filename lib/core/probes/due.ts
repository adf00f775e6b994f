/** When a probe wants cleaning or calibrating again. */
import { DAY, type Instant } from "../time/instant.ts";
import { practiceOf } from "../units/quantity.ts";
import type { Calibration } from "./calibration.ts";

/** Milliseconds between calibrations of a quantity's probe; null where none is expected (flow, level, states). */
export function calibratedEvery(id: string): number | null {
  const days = practiceOf(id)?.calibratedEvery ?? null;
  return days === null ? null : days * DAY;
}

const COUNTS: ReadonlySet<string> = new Set(["calibration", "replacement"]);

/** The newest calibration or replacement in force; cleaning alone does not set a probe right. */
export function lastSetRight(calibrations: readonly Calibration[]): Calibration | null {
  return newest(calibrations.filter((row) => COUNTS.has(row.kind)));
}

/** The newest visit of any kind in force, before an instant where one is given. */
export function newest(
  calibrations: readonly Calibration[],
  before = Number.POSITIVE_INFINITY,
): Calibration | null {
  let best: Calibration | null = null;
  for (const row of calibrations) {
    if (row.voided || row.at >= before) continue;
    if (!best || row.at > best.at || (row.at === best.at && row.received > best.received)) best = row;
  }
  return best;
}

/** When the next calibration is due; null where none is expected or none has ever been recorded. */
export function dueAt(quantity: string, calibrations: readonly Calibration[]): Instant | null {
  const every = calibratedEvery(quantity);
  const last = lastSetRight(calibrations);
  return every === null || !last ? null : last.at + every;
}

import { DAY, type Instant, MINUTE } from "../time/instant.ts";
import type { NumberQuantity, StateQuantity } from "../units/quantity.ts";
import { FLAG, type Flag, type Reason } from "./flag.ts";

export interface Verdict {
  readonly flag: Flag;
  readonly reasons: readonly Reason[];
}
const PASS: Verdict = { flag: FLAG.pass, reasons: [] };
const FAIL_SPAN: Verdict = { flag: FLAG.fail, reasons: ["out_of_sensor_span"] };
const SUSPECT_SPAN: Verdict = { flag: FLAG.suspect, reasons: ["out_of_plausible_span"] };

/**
 * Gross range test: fail outside the sensor's span, suspect outside the plausible span, limits inclusive.
 * Source: IOOS QARTOD, test 4 (gross range). A state passes when its index names a word.
 */
export function grossRange(value: number, spec: NumberQuantity | StateQuantity): Verdict {
  if (spec.kind === "state") return spec.words[value] === undefined ? FAIL_SPAN : PASS;
  const [sensorLow, sensorHigh] = spec.sensor;
  if (!(value >= sensorLow && value <= sensorHigh)) return FAIL_SPAN;
  const [low, high] = spec.plausible;
  return value >= low && value <= high ? PASS : SUSPECT_SPAN;
}

const OLDEST = 30 * DAY;
const AHEAD = 2 * MINUTE;

/** A reading whose own time is too far from its arrival to be believed: kept, marked, never current. Common practice, no source. */
export const isTimeSuspect = (at: Instant, received: Instant): boolean =>
  received - at > OLDEST || at - received > AHEAD;

/** A verdict with one more reason, at least suspect. */
export const withReason = (verdict: Verdict, reason: Reason): Verdict => ({
  flag: verdict.flag === FLAG.fail ? FLAG.fail : FLAG.suspect,
  reasons: [...verdict.reasons, reason],
});

import { DAY, HOUR, MINUTE, SECOND } from "../time/instant.ts";

/** How soon hands should be on the problem, by quantity. Common practice, no source. */
const ACT_WITHIN: Readonly<Record<string, number>> = {
  flow: 15 * MINUTE,
  level: 15 * MINUTE,
  orp: 15 * MINUTE,
  chlorine: 15 * MINUTE,
  total_chlorine: 15 * MINUTE,
  total_residual_oxidant: 15 * MINUTE,
  ozone: 15 * MINUTE,
  temperature: HOUR,
  dissolved_oxygen: HOUR,
  oxygen_saturation: HOUR,
  total_gas_pressure: HOUR,
  salinity: HOUR,
  specific_conductance: HOUR,
  ph: 4 * HOUR,
};
/** Flow and pump states answer in this time whatever the sampling. Common practice, no source (60-120 s). */
const FLOW_AND_PUMP = 90 * SECOND;

/** Time to act, milliseconds; a day where nothing shorter is known. */
export const actWithin = (quantity: string): number => ACT_WITHIN[quantity] ?? DAY;

/**
 * How long a condition must hold before it is a finding: the smaller of three samples and a quarter of the time to act. A stream
 * without a schedule (bench, state on change) has no delay of samples: a bench result counts at once.
 */
export function onDelay(quantity: string, intervalMs: number | null, scheduled: boolean): number {
  if (quantity === "flow") return FLOW_AND_PUMP;
  if (!scheduled || intervalMs === null) return 0;
  return Math.min(3 * intervalMs, actWithin(quantity) / 4);
}

/** How long a wrong state must last: pumps 90 s, contacts 10 s (a float rides the waves), supplies and leaks at once. Common practice, no source. */
export function stateDelay(quantity: string): number {
  if (quantity === "pump") return FLOW_AND_PUMP;
  if (quantity === "float" || quantity === "panel") return 10 * SECOND;
  return quantity === "leak" || quantity === "mains" ? 0 : MINUTE;
}

/** Silence: three expected intervals, at least two minutes. */
export const silenceAfter = (intervalMs: number): number => Math.max(3 * intervalMs, 2 * MINUTE);

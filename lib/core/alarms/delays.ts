import { MINUTE, SECOND } from "../time/instant.ts";
import { practiceOf, type QuantityId, quantity } from "../units/quantity.ts";

const DAY_MINUTES = 1_440;

/** Flow answers in this time whatever the sampling. Common practice, no source (60-120 s). */
const FLOW = 90 * SECOND;

/** Time to act, milliseconds; a day for states, and for an id that the registry does not have. */
export const actWithin = (id: string): number => (practiceOf(id)?.actWithin ?? DAY_MINUTES) * MINUTE;

/**
 * How long a condition must hold before it is a finding: the smaller of three samples and a quarter of the time to act. A stream
 * without a schedule (bench, state on change) has no delay of samples: a bench result counts at once.
 */
export function onDelay(id: QuantityId, intervalMs: number | null, scheduled: boolean): number {
  if (id === "flow") return FLOW;
  if (!scheduled || intervalMs === null) return 0;
  return Math.min(3 * intervalMs, actWithin(id) / 4);
}

/** How long a wrong word of a state must last, milliseconds; none for a number. */
export function stateDelay(id: QuantityId): number {
  const spec = quantity(id);
  return spec?.kind === "state" ? spec.delaySeconds * SECOND : 0;
}

/** Silence: three expected intervals, at least two minutes. */
export const silenceAfter = (intervalMs: number): number => Math.max(3 * intervalMs, 2 * MINUTE);

/** How long the water lasts when flow or power is gone: sums of mass with what they assume. */

export interface OxygenLeft {
  /** Grams of oxygen an hour that leave the water. */
  readonly gramsPerHour: number;
  /** Hours until the limit is reached; 0 where it is. Infinity where nothing uses oxygen. */
  readonly hours: number;
}

/**
 * Oxygen until a limit, both mg/L, in `volume` m3, from the fall that is measured, mg/L an hour: it knows the animals and the surface. Null
 * where a number is missing or the volume is not above zero.
 */
export function oxygenLeftAtFall(given: {
  readonly oxygen: number;
  readonly limit: number;
  readonly volume: number;
  readonly fall: number;
}): OxygenLeft | null {
  const { oxygen, limit, volume, fall } = given;
  if (!(volume > 0) || !(fall >= 0) || !Number.isFinite(oxygen - limit)) return null;
  const gramsPerHour = fall * volume;
  const reserve = Math.max(0, oxygen - limit) * volume;
  const hours = reserve === 0 ? 0 : gramsPerHour === 0 ? Number.POSITIVE_INFINITY : reserve / gramsPerHour;
  return { gramsPerHour, hours };
}

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

/** Oxygen that large resting fish use, mg for each kg of body mass an hour: least and most. Common practice, no source. */
const USE_LEAST = 50;
const USE_MOST = 150;

/**
 * Hours until a limit, both mg/L, in `volume` m3 that stands, from the body mass of everything that lives there, kg: before any fall can be measured. The
 * surface lets oxygen in, and is left out, so it errs early. Null where a number is missing, nothing lives there or the limit is reached.
 */
export function oxygenLeftByMass(given: {
  readonly oxygen: number;
  readonly limit: number;
  readonly volume: number;
  readonly mass: number;
}): { readonly earliest: number; readonly latest: number } | null {
  const { oxygen, limit, volume, mass } = given;
  // 1 mg/L is 1 g in each m3.
  const grams = (oxygen - limit) * volume;
  if (!(grams > 0) || !(mass > 0)) return null;
  return { earliest: (1000 * grams) / (mass * USE_MOST), latest: (1000 * grams) / (mass * USE_LEAST) };
}

/** How long the water lasts when flow or power is gone: sums of mass and heat with what they assume. */

/** Warming by 1 kW in 1 m3, degC an hour: from density and heat capacity (sea water 3.99 kJ/kg/K at 1025 kg/m3, fresh water 4.18 at 998). */
const DEGREES_PER_KW_M3 = { marine: 0.88, brackish: 0.87, fresh: 0.86 } as const;

/** Degrees Celsius an hour that `kilowatts` give `volume` m3; NaN for a volume that is not above zero. */
export const heatingRate = (
  kilowatts: number,
  volume: number,
  water: keyof typeof DEGREES_PER_KW_M3,
): number => (volume > 0 ? (DEGREES_PER_KW_M3[water] * kilowatts) / volume : Number.NaN);

/** Resting large fish breathe 50 to 150 mg of oxygen a kg and hour; the upper end is taken, so that it errs early. Common practice, no source. */
export const BREATHING = 150;

export interface OxygenLeft {
  /** Grams of oxygen an hour that leave the water. */
  readonly gramsPerHour: number;
  /** Hours until the limit is reached; 0 where it is. Infinity where nothing uses oxygen. */
  readonly hours: number;
}
/**
 * Oxygen until a limit, both mg/L, in `volume` m3, with what the animals (`biomass` kg, `perKg` mg a kg and hour) use; what comes in through
 * the surface is left out, so it errs early. Null where a number is missing or the volume is not above zero.
 */
export function oxygenLeft(given: {
  readonly oxygen: number;
  readonly limit: number;
  readonly volume: number;
  readonly biomass: number;
  readonly perKg?: number;
}): OxygenLeft | null {
  const { oxygen, limit, volume, biomass, perKg = BREATHING } = given;
  if (!(volume > 0) || !(biomass >= 0) || !(perKg >= 0) || !Number.isFinite(oxygen - limit)) return null;
  return leftAt((biomass * perKg) / 1_000, oxygen, limit, volume);
}

/** The same from the fall that is measured, mg/L an hour: it knows the animals and the surface. */
export function oxygenLeftAtFall(given: {
  readonly oxygen: number;
  readonly limit: number;
  readonly volume: number;
  readonly fall: number;
}): OxygenLeft | null {
  const { oxygen, limit, volume, fall } = given;
  if (!(volume > 0) || !(fall >= 0) || !Number.isFinite(oxygen - limit)) return null;
  return leftAt(fall * volume, oxygen, limit, volume);
}

function leftAt(gramsPerHour: number, oxygen: number, limit: number, volume: number): OxygenLeft {
  const reserve = Math.max(0, oxygen - limit) * volume;
  const hours = reserve === 0 ? 0 : gramsPerHour === 0 ? Number.POSITIVE_INFINITY : reserve / gramsPerHour;
  return { gramsPerHour, hours };
}

/** Concentration after `hours` of a through-flow (m3/h) of water at `incoming` into a mixed tank of `volume` m3. Source: mass balance. */
export const dilutedTo = (
  now: number,
  incoming: number,
  flow: number,
  volume: number,
  hours: number,
): number => incoming + (now - incoming) * Math.exp((-flow * hours) / volume);

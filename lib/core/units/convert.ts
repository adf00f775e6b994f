import { type Unit, type UnitDefinition, unitDefinition } from "./unit.ts";

/** Raised when a conversion is asked for that has no exact answer; the message says why and what is missing. */
export class UnitError extends Error {
  override readonly name = "UnitError";
}

export interface ConvertOptions {
  /** Density of the water, kg/m3: needed only between amounts per litre and per kilogram. 900 to 1400. */
  readonly density?: number;
}

function sameFamily(a: UnitDefinition, b: UnitDefinition): boolean {
  const [one, other] = [a.family ?? null, b.family ?? null];
  return one === null || other === null || one === other;
}

function reasonAgainst(from: string, to: string, hasDensity: boolean): string | null {
  const [a, b] = [unitDefinition(from), unitDefinition(to)];
  if (a === undefined) return `"${from}" is not a known unit`;
  if (b === undefined) return `"${to}" is not a known unit`;
  if (a.dimension !== b.dimension) {
    return `"${from}" is a ${a.dimension} and "${to}" a ${b.dimension}`;
  }
  if (!sameFamily(a, b)) return `"${from}" counts ${a.family} and "${to}" ${b.family}`;
  if (!hasDensity && (a.perMass ?? false) !== (b.perMass ?? false)) {
    return `converting "${from}" to "${to}" needs the water's density: give density in kg/m3`;
  }
  return null;
}

/** True when `convert(value, from, to, options)` has an exact answer. Never throws for unknown codes. */
export function convertible(from: string, to: string, options: ConvertOptions = {}): boolean {
  return reasonAgainst(from, to, options.density !== undefined) === null;
}

/**
 * `value` in unit `to`. Exact conversions only: the same dimension, the same counted thing and, between litre and
 * kilogram, a density. A non-finite value stays non-finite.
 * Throws `UnitError` naming both units when there is no exact conversion or the density is not that of water.
 * Source: definitions of the units; molar masses of `basis.ts`.
 */
export function convert(value: number, from: Unit, to: Unit, options: ConvertOptions = {}): number {
  const reason = reasonAgainst(from, to, options.density !== undefined);
  if (reason !== null) throw new UnitError(`cannot convert ${value} from "${from}" to "${to}": ${reason}`);
  if (from === to) return value;
  const a = unitDefinition(from) as UnitDefinition;
  const b = unitDefinition(to) as UnitDefinition;
  let base = (value + (a.shift ?? 0)) * a.factor;
  if ((a.perMass ?? false) !== (b.perMass ?? false)) {
    const kgPerL = waterKgPerL(options.density as number);
    base = a.perMass === true ? base * kgPerL : base / kgPerL;
  }
  return base / b.factor - (b.shift ?? 0);
}

function waterKgPerL(density: number): number {
  if (!(density >= 900 && density <= 1400)) {
    throw new UnitError(`density ${density} is not that of water: give it in kg/m3, between 900 and 1400`);
  }
  return density / 1000;
}

import type { In, Unit } from "../units/unit.ts";

/**
 * `ok`: inside the range its authors gave. `extrapolated`: computed outside it, to be shown with a mark.
 * `invalid`: no number can be defended; `value` is null and `note` says why.
 */
export type ComputedStatus = "ok" | "extrapolated" | "invalid";

/** What every equation gives back: a finite number or null, never NaN; which formula; and what to know about it. */
export interface Computed<V> {
  readonly value: V | null;
  readonly status: ComputedStatus;
  /** Name of the equation with its source, short enough to go beside a number. */
  readonly formula: string;
  /** Why a result is extrapolated or invalid, or a caution about an `ok` one. */
  readonly note: string | null;
}

export type ComputedIn<U extends Unit> = Computed<In<U>>;

export const NOT_A_NUMBER = "an input is not a finite number";
export const NOT_LIQUID = "temperature is outside -5 to 100 °C, where there is no liquid water to measure";
export const NO_SALINITY = "salinity is outside 0 to 120";

/** The widest span of inputs for which any equation here is tried at all. */
export function isWaterTemperature(t: number): boolean {
  return t >= -5 && t <= 100;
}

export function isSalinity(s: number): boolean {
  return s >= 0 && s <= 120;
}

/** Why t and s allow no computation, or null when they do. */
export function waterFault(t: number, s: number): string | null {
  if (!Number.isFinite(t) || !Number.isFinite(s)) return NOT_A_NUMBER;
  if (!isWaterTemperature(t)) return NOT_LIQUID;
  return isSalinity(s) ? null : NO_SALINITY;
}

/** A result without a value. */
export function invalid(formula: string, note: string): Computed<never> {
  return { value: null, status: "invalid", formula, note };
}

/** A result with a value; a value that overflowed is invalid, whatever the caller thought of it. */
export function computed<U extends Unit>(
  value: number,
  formula: string,
  outside: string | null,
  caution: string | null = null,
): ComputedIn<U> {
  if (!Number.isFinite(value)) return invalid(formula, NOT_A_NUMBER);
  return {
    value: value as In<U>,
    status: outside === null ? "ok" : "extrapolated",
    formula,
    note: outside ?? caution,
  };
}

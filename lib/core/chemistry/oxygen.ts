import type { In, PracticalSalinity } from "../units/unit.ts";
import { type Computed, type ComputedIn, computed, invalid, NOT_A_NUMBER, waterFault } from "./result.ts";
import { KELVIN } from "./water.ts";

const FORMULA = "Benson & Krause 1984";
const OUTSIDE = "outside 0 to 40 °C, S 0 to 40 or 0.5 to 1.1 atm";
const HPA_PER_ATM = 1013.25;
/** mg/L or percent: far past any reading, so that a slipped decimal point is refused rather than converted. */
const BEYOND_ANY_WATER = 10000;
/** Mole fraction of oxygen in dry air. Source: USGS OWQ memorandum 2011.03. */
export const OXYGEN_IN_AIR = 0.20946;

/**
 * Vapour pressure over water, atm, in plain numbers: t in °C, s practical salinity. Nothing is checked.
 * Source: Green & Carritt 1967.
 */
export function vapourPressureNumber(t: number, s: number): number {
  const warm = 373.16 / (t + KELVIN);
  const cold = (t + KELVIN) / 373.16;
  return (
    (1 - 5.37e-4 * s) *
    Math.exp(
      18.1973 * (1 - warm) +
        3.1813e-7 * (1 - Math.exp(26.1205 * (1 - cold))) -
        1.8726e-2 * (1 - Math.exp(8.03945 * (1 - warm))) +
        5.02802 * Math.log(warm),
    )
  );
}

/**
 * Oxygen at saturation, mg/L, in plain numbers: t in °C, s practical salinity, pressure in hPa at the station.
 * Nothing is checked. Source: Benson & Krause 1980, 1984, as adopted by USGS OWQ memorandum 2011.03.
 */
export function oxygenSaturationNumber(t: number, s: number, stationPressure: number): number {
  const k = 1 / (t + KELVIN);
  const atOneAtmosphere = Math.exp(
    -139.34411 +
      k * (1.575701e5 + k * (-6.642308e7 + k * (1.2438e10 - k * 8.621949e11))) -
      s * (0.017674 + k * (-10.754 + k * 2140.7)),
  );
  const u = vapourPressureNumber(t, s);
  const h = 0.000975 + t * (-1.426e-5 + t * 6.436e-8);
  const p = stationPressure / HPA_PER_ATM;
  return (atOneAtmosphere * (p - u) * (1 - h * p)) / ((1 - u) * (1 - h));
}

function faultOf(t: number, s: number, stationPressure: number): string | null {
  const fault = waterFault(t, s);
  if (fault !== null) return fault;
  if (!Number.isFinite(stationPressure)) return NOT_A_NUMBER;
  // At 60 hPa warm water already boils; a barometer that says so is broken or in another unit.
  if (stationPressure < 200 || stationPressure > 2000) return "station pressure is outside 200 to 2000 hPa";
  return vapourPressureNumber(t, s) * HPA_PER_ATM < stationPressure ? null : "water boils at this pressure";
}

function outsideRange(t: number, s: number, stationPressure: number): string | null {
  const atm = stationPressure / HPA_PER_ATM;
  return t < 0 || t > 40 || s > 40 || atm < 0.5 || atm > 1.1 ? OUTSIDE : null;
}

/**
 * Oxygen, mg/L, in water in equilibrium with water-saturated air. `t` °C; `s` practical salinity; `stationPressure`
 * hPa as a barometer at the place reads it, never the sea-level figure of a weather report.
 * 0-40 °C, S 0-40, 507-1115 hPa; outside extrapolated; below 200 or above 2000 hPa, or boiling, invalid.
 * Uncertainty 0.1 %. Source: Benson & Krause 1984; vapour pressure Green & Carritt 1967.
 */
export function oxygenSaturation(
  t: In<"Cel">,
  s: PracticalSalinity,
  stationPressure: In<"hPa">,
): ComputedIn<"mg/L"> {
  const fault = faultOf(t, s, stationPressure);
  if (fault !== null) return invalid(FORMULA, fault);
  return computed<"mg/L">(
    oxygenSaturationNumber(t, s, stationPressure),
    FORMULA,
    outsideRange(t, s, stationPressure),
  );
}

export interface OxygenPercent extends Computed<In<"%">> {
  /** What 100 % would be here, mg/L. */
  readonly saturation: In<"mg/L"> | null;
  /** Partial pressure of the dissolved oxygen, hPa. */
  readonly partialPressure: In<"hPa"> | null;
}

/**
 * Dissolved oxygen as percent of saturation at the station. `dissolved` mg/L; the rest as `oxygenSaturation`, whose
 * range holds. Oxygen below 0 or above 10000 is invalid. A probe's own mg/L was computed with its salinity setting: set to 0 in sea
 * water it reads about a fifth too high. Source: Benson & Krause 1984.
 */
export function oxygenPercent(
  dissolved: In<"mg/L">,
  t: In<"Cel">,
  s: PracticalSalinity,
  stationPressure: In<"hPa">,
): OxygenPercent {
  const fault = oxygenFault(dissolved, t, s, stationPressure);
  if (fault !== null) return { ...invalid(FORMULA, fault), saturation: null, partialPressure: null };
  const saturation = oxygenSaturationNumber(t, s, stationPressure);
  const share = dissolved / saturation;
  const outside = outsideRange(t, s, stationPressure);
  return {
    value: (100 * share) as In<"%">,
    status: outside === null ? "ok" : "extrapolated",
    formula: FORMULA,
    note: outside,
    saturation: saturation as In<"mg/L">,
    partialPressure: (share *
      OXYGEN_IN_AIR *
      (stationPressure - HPA_PER_ATM * vapourPressureNumber(t, s))) as In<"hPa">,
  };
}

function oxygenFault(amount: number, t: number, s: number, stationPressure: number): string | null {
  if (!Number.isFinite(amount)) return NOT_A_NUMBER;
  if (amount < 0) return "oxygen cannot be negative";
  if (amount > BEYOND_ANY_WATER) return "that is more oxygen than any water can hold";
  return faultOf(t, s, stationPressure);
}

/**
 * Dissolved oxygen, mg/L, of water at `percent` of saturation: the inverse of `oxygenPercent`, same range.
 * Source: Benson & Krause 1984.
 */
export function oxygenFromPercent(
  percent: In<"%">,
  t: In<"Cel">,
  s: PracticalSalinity,
  stationPressure: In<"hPa">,
): ComputedIn<"mg/L"> {
  const fault = oxygenFault(percent, t, s, stationPressure);
  if (fault !== null) return invalid(FORMULA, fault);
  return computed<"mg/L">(
    (percent / 100) * oxygenSaturationNumber(t, s, stationPressure),
    FORMULA,
    outsideRange(t, s, stationPressure),
  );
}

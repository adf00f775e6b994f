import type { In, PracticalSalinity } from "../units/unit.ts";
import { densityNumber } from "./density.ts";
import { OXYGEN_IN_AIR } from "./oxygen.ts";
import { type Computed, invalid, NOT_A_NUMBER, waterFault } from "./result.ts";
import { KELVIN } from "./water.ts";

const FORMULA = "Colt 1984 with Weiss 1970 and Weiss & Price 1980";
const OUTSIDE = "outside 0 to 40 °C, S 0 to 40, 500 to 1100 hPa or -100 to 400 mmHg of excess";
const MMHG_PER_HPA = 760 / 1013.25;
/** Ten atmospheres, mmHg: no tensiometer for water reads that far. */
const MOST_EXCESS = 7600;
/** Mole fraction of nitrogen and argon in dry air. Source: Colt 1984. */
const NITROGEN_ARGON_IN_AIR = 0.79018;
/** mmHg for each mg/L over the Bunsen coefficient: 760 / (1000 * 1.42903). Source: Colt 1984 (from memory). */
const OXYGEN_MMHG = 0.5318;
/** Bunsen coefficient of oxygen. Source: Weiss 1970, Deep-Sea Res. 17, 721. */
const BUNSEN_A = [-58.3877, 85.8079, 23.8439] as const;
const BUNSEN_B = [-0.034892, 0.015568, -0.0019387] as const;

/** Bunsen coefficient of oxygen, L/L/atm, in plain numbers. Source: Weiss 1970. */
export function oxygenBunsenNumber(t: number, s: number): number {
  const Th = (t + KELVIN) / 100;
  const [a1, a2, a3] = BUNSEN_A;
  const [b1, b2, b3] = BUNSEN_B;
  return Math.exp(a1 + a2 / Th + a3 * Math.log(Th) + s * (b1 + Th * (b2 + Th * b3)));
}

/** Vapour pressure over sea water, mmHg, in plain numbers. Source: Weiss & Price 1980, Mar. Chem. 8, 347. */
export function vapourMmHgNumber(t: number, s: number): number {
  const Th = (t + KELVIN) / 100;
  return 760 * Math.exp(24.4543 - 67.4509 / Th - 4.8489 * Math.log(Th) - 0.000544 * s);
}

export interface GasPressure extends Computed<In<"%">> {
  /** Partial pressures at the surface, mmHg. Without an oxygen reading only the vapour's is known. */
  readonly oxygenPressure: In<"mm[Hg]"> | null;
  readonly vapourPressure: In<"mm[Hg]"> | null;
  readonly nitrogenArgonPressure: In<"mm[Hg]"> | null;
  /** Of saturation. For oxygen show the percent of `oxygenPercent` instead: this one differs by up to 0.3. */
  readonly oxygenPercent: In<"%"> | null;
  readonly nitrogenArgonPercent: In<"%"> | null;
}

export interface GasTensiometerReading {
  /** Barometer at the station, hPa. */
  readonly bp: In<"hPa">;
  /** Gas pressure above the barometer, mmHg; negative is undersaturation. */
  readonly dp: In<"mm[Hg]">;
  /** Dissolved oxygen, mg/L; without it the gases are not separated. */
  readonly do?: In<"mg/L">;
  /** Water, °C. */
  readonly t: In<"Cel">;
  readonly s: PracticalSalinity;
}

const NOTHING = {
  oxygenPressure: null,
  vapourPressure: null,
  nitrogenArgonPressure: null,
  oxygenPercent: null,
  nitrogenArgonPercent: null,
} as const;

function faultOf(input: GasTensiometerReading): string | null {
  const { bp, dp, t, s } = input;
  if (![bp, dp, input.do ?? 0].every(Number.isFinite)) return NOT_A_NUMBER;
  if (bp < 200 || bp > 2000) return "barometer is outside 200 to 2000 hPa";
  if (bp * MMHG_PER_HPA + dp <= 0) return "gas pressure is not above 0";
  if (dp > MOST_EXCESS) return "excess pressure is above 7600 mmHg";
  if ((input.do ?? 0) < 0) return "oxygen cannot be negative";
  return (
    waterFault(t, s) ?? (vapourMmHgNumber(t, s) < bp * MMHG_PER_HPA ? null : "water boils at this pressure")
  );
}

/**
 * Total gas pressure, % of the barometer, split into oxygen, vapour and nitrogen with argon. 0-40 °C, S 0-40,
 * 500-1100 hPa, excess -100 to 400 mmHg; outside extrapolated. A negative rest for nitrogen means the readings
 * contradict each other: invalid. About 1 % in nitrogen with argon; CO2 is left out (below 1 mmHg in ordinary water).
 * Source: Colt 1984, Am. Fish. Soc. Spec. Publ. 14; Weiss 1970; Weiss & Price 1980.
 */
export function totalGasPressure(input: GasTensiometerReading): GasPressure {
  const fault = faultOf(input);
  if (fault !== null) return { ...invalid(FORMULA, fault), ...NOTHING };
  const { dp, t, s } = input;
  const bp = input.bp * MMHG_PER_HPA;
  const vapour = vapourMmHgNumber(t, s);
  const outside =
    t < 0 || t > 40 || s > 40 || input.bp < 500 || input.bp > 1100 || dp < -100 || dp > 400 ? OUTSIDE : null;
  const total: Omit<GasPressure, keyof typeof NOTHING> = {
    value: ((100 * (bp + dp)) / bp) as In<"%">,
    status: outside === null ? "ok" : "extrapolated",
    formula: FORMULA,
    note: outside,
  };
  if (input.do === undefined) return { ...total, ...NOTHING, vapourPressure: vapour as In<"mm[Hg]"> };
  const oxygen = (input.do * OXYGEN_MMHG) / oxygenBunsenNumber(t, s);
  const rest = bp + dp - oxygen - vapour;
  if (rest < 0) {
    const note =
      "oxygen and vapour alone exceed the gas pressure: check the tensiometer and the oxygen probe";
    return { ...invalid(FORMULA, note), ...NOTHING };
  }
  return {
    ...total,
    oxygenPressure: oxygen as In<"mm[Hg]">,
    vapourPressure: vapour as In<"mm[Hg]">,
    nitrogenArgonPressure: rest as In<"mm[Hg]">,
    oxygenPercent: ((100 * oxygen) / (OXYGEN_IN_AIR * (bp - vapour))) as In<"%">,
    nitrogenArgonPercent: ((100 * rest) / (NITROGEN_ARGON_IN_AIR * (bp - vapour))) as In<"%">,
  };
}

/** Standard gravity over the conventional millimetre of mercury, mmHg per Pa of water column. */
const MMHG_PER_PA = MMHG_PER_HPA / 100;
const GRAVITY = 9.80665;
const DEPTH_FORMULA = "hydrostatic head through EOS-80";

/**
 * Excess gas pressure felt at `depth` m below the surface, mmHg: what is left of `dp` (mmHg, at the surface) after the
 * head of water; below 0 no bubble can form there. `t` °C, `s` practical salinity. Depth below 0 or over 100 m: invalid.
 * Source: Colt 1984; density Millero & Poisson 1981; standard gravity 9.80665 m/s2.
 */
export function gasExcessAtDepth(
  dp: In<"mm[Hg]">,
  depth: In<"m">,
  t: In<"Cel">,
  s: PracticalSalinity,
): Computed<In<"mm[Hg]">> {
  const finite = Number.isFinite(dp) && Number.isFinite(depth);
  const fault = finite ? waterFault(t, s) : NOT_A_NUMBER;
  if (fault !== null) return invalid(DEPTH_FORMULA, fault);
  if (depth < 0 || depth > 100) return invalid(DEPTH_FORMULA, "depth is outside 0 to 100 m");
  const value = dp - densityNumber(s, t) * GRAVITY * depth * MMHG_PER_PA;
  const outside = s > 42 || t < -2 || t > 40 ? "density is outside S 0 to 42 or -2 to 40 °C" : null;
  return {
    value: value as In<"mm[Hg]">,
    status: outside === null ? "ok" : "extrapolated",
    formula: DEPTH_FORMULA,
    note: outside,
  };
}

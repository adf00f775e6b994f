import { firstOrderNumber } from "./first-order.ts";
import { oxygenSaturationNumber } from "./oxygen.ts";

/** Standard uncertainties of what goes into percent of saturation. */
export interface OxygenUncertainty {
  /** mg/L. */
  readonly dissolved: number;
  /** °C. */
  readonly t: number;
  /** Practical salinity. */
  readonly s: number;
  /** hPa. */
  readonly pressure: number;
}

/** An optical probe in calibration beside a barometer. Common practice, no source. */
export const FIELD_OXYGEN: OxygenUncertainty = { dissolved: 0.1, t: 0.2, s: 0.5, pressure: 2 };
/** Of the saturation concentration, as a share of it. Source: Benson & Krause 1984. */
const U_EQUATION = 0.001;

/**
 * Standard uncertainty of percent of saturation, in percent: `dissolved` mg/L, `t` °C, `s` practical salinity, `pressure` hPa at the
 * station, `u` as `OxygenUncertainty` (0 or more). Null where there is no number. The interval of about 95 % is twice it either way.
 * Source: GUM (JCGM 100:2008), first order, over Benson & Krause 1984.
 */
export function oxygenPercentUncertainty(
  dissolved: number,
  t: number,
  s: number,
  pressure: number,
  u: OxygenUncertainty = FIELD_OXYGEN,
  equation: number = U_EQUATION,
): number | null {
  const percent = (x: readonly number[]) =>
    (100 * (x[0] as number)) / oxygenSaturationNumber(x[1] as number, x[2] as number, x[3] as number);
  const found = firstOrderNumber(
    percent,
    [
      { value: dissolved, u: u.dissolved, step: 0.01 },
      { value: t, u: u.t, step: 0.01 },
      { value: s, u: u.s, step: 0.01 },
      { value: pressure, u: u.pressure, step: 0.1 },
    ],
    equation * percent([dissolved, t, s, pressure]),
  );
  return Number.isFinite(found) ? found : null;
}

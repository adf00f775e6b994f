import { firstOrderNumber } from "./first-order.ts";
import { salinityNumber } from "./salinity.ts";

/** Standard uncertainties of what goes into practical salinity. */
export interface SalinityUncertainty {
  /** Of conductivity, as a share of it. */
  readonly conductivityRelative: number;
  /** °C. */
  readonly t: number;
}

/** A field probe in calibration: 1 % of the reading, 0.1 °C. Common practice, no source. */
export const FIELD_CONDUCTIVITY: SalinityUncertainty = { conductivityRelative: 0.01, t: 0.1 };
/** Of the scale itself, S. Source: UNESCO 44 (Fofonoff & Millard 1983). */
const U_SCALE = 0.003;

/**
 * Standard uncertainty of practical salinity, in S: `c` mS/cm above 0, `t` °C, `p` dbar, `u` as `SalinityUncertainty` (0 or more). Null
 * where the scale gives no number beside the point (conductivity of 0). The interval of about 95 % is twice it either way.
 * Source: GUM (JCGM 100:2008), first order, over PSS-78.
 */
export function salinityUncertainty(
  c: number,
  t: number,
  p: number,
  u: SalinityUncertainty = FIELD_CONDUCTIVITY,
  scale: number = U_SCALE,
): number | null {
  if (!(c > 0)) return null;
  const found = firstOrderNumber(
    (x) => salinityNumber(x[0] as number, x[1] as number, p),
    [
      { value: c, u: u.conductivityRelative * c, step: c * 1e-3 },
      { value: t, u: u.t, step: 0.01 },
    ],
    scale,
  );
  return Number.isFinite(found) ? found : null;
}

import { oxygenFromPercent, oxygenPercent } from "../chemistry/oxygen.ts";
import { stationPressure } from "../chemistry/pressure.ts";
import { numberText, withUnit } from "../units/number-text.ts";
import { degC, hPa, metres, mgPerL, percent, psu } from "../units/unit.ts";

/** Standard pressure at sea level, hPa (by definition), where there is no barometer. */
const STANDARD_HPA = 1013.25;

export interface OxygenWater {
  /** °C. */
  readonly temperature: number;
  /** Practical salinity. */
  readonly salinity: number;
  /** Station pressure in hPa; null where there is no barometer. */
  readonly barometer: number | null;
  /** Metres above sea level. */
  readonly elevation: number;
}

/**
 * Oxygen typed one way, said the other way too: mg/L gives percent of saturation and the reverse. A sentence with the air that was used, or
 * why it cannot be said. Source: as `oxygenPercent`, `stationPressure`.
 */
export function oxygenBothWays(
  typed: { readonly quantity: "dissolved_oxygen" | "oxygen_saturation"; readonly value: number },
  { temperature, salinity, barometer, elevation }: OxygenWater,
): string {
  const air = barometer ?? stationPressure(hPa(STANDARD_HPA), metres(elevation)).value ?? STANDARD_HPA;
  const from = barometer === null ? `standard pressure at ${elevation} m` : "barometer";
  const water = [degC(temperature), psu(salinity), hPa(air)] as const;
  const isAmount = typed.quantity === "dissolved_oxygen";
  const other = isAmount
    ? oxygenPercent(mgPerL(typed.value), ...water)
    : oxygenFromPercent(percent(typed.value), ...water);
  if (other.value === null) return `Cannot be converted: ${other.note ?? "the inputs give no result"}`;
  const amount = withUnit(isAmount ? typed.value : other.value, 2, "mg/L");
  const share = withUnit(isAmount ? other.value : typed.value, 0, "%");
  return `${amount} = ${share} of saturation at ${withUnit(temperature, 1, "°C")}, S ${numberText(salinity, 1)}, ${withUnit(air, 0, "hPa")} (${from})`;
}

import type { Severity } from "../alarms/finding.ts";
import { type PointRole, pointRole } from "../set-up/point-role.ts";
import { HOUR, MINUTE } from "../time/instant.ts";
import { forQuantity, type NumberQuantityId } from "../units/quantity.ts";

/** "Too fast": the slope over the window passes a limit in a direction. The window is the delay; nothing is added. */
export interface RateRule {
  readonly name: string;
  readonly windowMs: number;
  /** Units an hour, positive; applies to rising, falling or both. */
  readonly perHour: number;
  readonly direction: "rising" | "falling" | "both";
  readonly severity: Severity;
}

/** Pools this small move fast: the same rule asks after twenty minutes instead of an hour. Common practice, no source. */
export const SMALL_POOL_M3 = 6;

const rule = (
  name: string,
  windowMs: number,
  perHour: number,
  direction: RateRule["direction"],
  severity: Severity,
): RateRule => ({ name, windowMs, perHour, direction, severity });

/**
 * Rates that want a look or an action, by quantity. Common practice, no source, as husbandry teams use them: temperature 0.2 and
 * 0.3 degC/h, 1 degC in 6 h, salinity 1 in an hour and 0.2 an hour for 2 h, pH 0.2 in an hour, oxygen 0.3 and 0.5 mg/L/h, display ORP 20 and 40 mV/h, gas pressure 1 and 2 %/h.
 * What is not here may go as fast as it likes: its band and its course speak for it.
 */
const RULES: Partial<Record<NumberQuantityId, readonly RateRule[]>> = {
  salinity: [
    rule("1 in an hour", HOUR, 1, "both", "action"),
    rule("0.2 an hour for 2 h", 2 * HOUR, 0.2, "both", "action"),
  ],
  ph: [rule("0.2 in an hour", HOUR, 0.2, "both", "action")],
  dissolved_oxygen: [
    rule("0.3 mg/L an hour", HOUR, 0.3, "falling", "look"),
    rule("0.5 mg/L an hour over 20 min", 20 * MINUTE, 0.5, "falling", "action"),
  ],
  total_gas_pressure: [
    rule("1 % an hour", HOUR, 1, "rising", "look"),
    rule("2 % an hour", HOUR, 2, "rising", "action"),
  ],
};
const TEMPERATURE = [
  rule("0.2 °C an hour", HOUR, 0.2, "both", "look"),
  rule("0.3 °C an hour", HOUR, 0.3, "both", "action"),
  rule("0.2 °C an hour for 3 h", 3 * HOUR, 0.2, "both", "action"),
  rule("1 °C in 6 h", 6 * HOUR, 1 / 6, "both", "action"),
];
const TEMPERATURE_SMALL = [
  rule("0.2 °C an hour over 20 min", 20 * MINUTE, 0.2, "both", "look"),
  rule("0.3 °C an hour over 20 min", 20 * MINUTE, 0.3, "both", "action"),
];
const ORP_DISPLAY = [
  rule("20 mV an hour", HOUR, 20, "rising", "look"),
  rule("40 mV an hour over 30 min", 30 * MINUTE, 40, "rising", "action"),
];

/**
 * The rate rules of a quantity at a point of that role in a system of that volume (m3). None where ORP follows the ozone controller, nor
 * for a loop beside the system or the air of a room: they move as they are driven.
 */
export function rateRulesFor(quantity: string, role: PointRole, volume: number): readonly RateRule[] {
  const { water, followsOzoneController } = pointRole(role);
  if (water === "loop" || water === "none") return [];
  if (quantity === "temperature") return volume <= SMALL_POOL_M3 ? TEMPERATURE_SMALL : TEMPERATURE;
  if (quantity === "orp") return followsOzoneController ? [] : ORP_DISPLAY;
  return forQuantity(RULES, quantity) ?? [];
}

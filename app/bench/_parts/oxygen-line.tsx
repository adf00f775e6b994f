"use client";

import type { OxygenWater } from "#core/bench/oxygen.ts";
import css from "./field.module.css";
import { useLazy } from "./use-lazy.ts";

const oxygenEquations = () => import("#core/bench/oxygen.ts");

/** Oxygen both ways, mg/L and percent, as soon as one is typed. */
export function OxygenNow({
  quantity,
  value,
  water,
}: {
  quantity: "dissolved_oxygen" | "oxygen_saturation";
  value: number;
  water: OxygenWater | null;
}) {
  const part = useLazy(oxygenEquations);
  if (part === null) return null;
  if (part === "failed")
    return <p className={css.computed}>mg/L and % cannot be converted without a connection.</p>;
  if (water === null) {
    return (
      <p className={css.computed}>
        mg/L and % of saturation cannot be converted: temperature or salinity at the time of sampling is
        missing
      </p>
    );
  }
  return <p className={css.computed}>{part.oxygenBothWays({ quantity, value }, water)}</p>;
}

"use client";

import { use } from "react";
import type { OxygenWater } from "../../../lib/core/bench/oxygen.ts";
import css from "./field.module.css";

const equations = () => import("../../../lib/core/bench/oxygen.ts");
let loading: ReturnType<typeof equations> | undefined;

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
  loading ??= equations();
  const { oxygenBothWays } = use(loading);
  if (water === null) {
    return (
      <p className={css.computed}>
        mg/L and % of saturation cannot be told from each other: temperature or salinity at the time of
        sampling is missing
      </p>
    );
  }
  return <p className={css.computed}>{oxygenBothWays({ quantity, value }, water)}</p>;
}

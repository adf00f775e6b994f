"use client";

import type { BenchWaterView } from "#contract/bench-water.ts";
import type { AmmoniaNeed } from "#core/bench/ammonia.ts";
import { nearSample } from "#core/bench/water-near.ts";
import type { BandEdges } from "#core/habitat/band.ts";
import type { Examined } from "./draft.ts";
import css from "./field.module.css";
import { Later } from "./later.tsx";
import { loadAmmonia, loadOxygen } from "./parts-later.ts";

const NEEDS: readonly AmmoniaNeed[] = ["ph", "temperature", "salinity"];

export interface ComputedLineProps {
  readonly quantity: string;
  /** Every field of the form: what it says of the water comes before what probes say. */
  readonly examined: ReadonlyMap<string, Examined>;
  readonly water: BenchWaterView;
  readonly band: BandEdges | null;
  readonly sampledAt: number;
  readonly now: number;
  readonly zone: string;
}

/** What follows from a result as soon as it is typed: un-ionised ammonia from total ammonia, oxygen the other way round. */
export function ComputedLine({ quantity, examined, water, band, sampledAt, now, zone }: ComputedLineProps) {
  const found = examined.get(quantity);
  if (found?.kind !== "read") return null;
  const own: Partial<Record<AmmoniaNeed, number>> = {};
  for (const need of NEEDS) {
    const typed = examined.get(need);
    if (typed?.kind === "read" && typed.qualifier === "=") own[need] = typed.value;
  }
  const missing = (
    <p className={css.computed}>Values computed from this cannot be shown without a connection.</p>
  );
  if (quantity === "total_ammonia") {
    return (
      <Later load={loadAmmonia} missing={missing}>
        {({ AmmoniaNow }) => (
          <AmmoniaNow asked={{ tan: found, own, water, sampledAt }} band={band} now={now} zone={zone} />
        )}
      </Later>
    );
  }
  if (quantity !== "dissolved_oxygen" && quantity !== "oxygen_saturation") return null;
  const then = (need: AmmoniaNeed) => own[need] ?? nearSample(water[need], sampledAt)?.value;
  const [temperature, salinity] = [then("temperature"), then("salinity")];
  const barometer = nearSample(water.pressure, sampledAt)?.value ?? null;
  const known = temperature !== undefined && salinity !== undefined;
  const around = known ? { temperature, salinity, barometer, elevation: water.elevation } : null;
  return (
    <Later load={loadOxygen} missing={missing}>
      {({ OxygenNow }) => <OxygenNow quantity={quantity} value={found.value} water={around} />}
    </Later>
  );
}

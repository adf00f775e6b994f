"use client";

import { AMMONIA_NEEDS, type AmmoniaNeed, ammoniaOfTest, type WaterInput } from "#core/bench/ammonia.ts";
import { type OxygenWater, oxygenBothWays } from "#core/bench/oxygen.ts";
import { nearSample } from "#core/bench/water-near.ts";
import { AmmoniaSaid } from "./ammonia-line.tsx";
import type { ComputedLineProps } from "./computed-line-props.ts";
import type { Examined } from "./draft.ts";
import css from "./field.module.css";

type Read = Extract<Examined, { kind: "read" }>;
/** What the form itself says of the water. */
type Own = Readonly<Partial<Record<AmmoniaNeed, number>>>;
type Computed = ComputedLineProps & { readonly found: Read; readonly own: Own };

/** Un-ionised ammonia of the total ammonia in the form, with pH, temperature and salinity from it or from around the sample. */
function AmmoniaNow({ found, own, water, band, sampledAt, now, zone }: Computed) {
  const given: Partial<Record<AmmoniaNeed, WaterInput>> = {};
  for (const need of AMMONIA_NEEDS) {
    const typed = own[need];
    const input: WaterInput | undefined =
      typed === undefined
        ? nearSample(water[need], sampledAt)
        : { value: typed, at: sampledAt, origin: "this test" };
    if (input) given[need] = input;
  }
  const tan = { value: found.value, qualifier: found.qualifier, at: sampledAt };
  const answer = ammoniaOfTest(tan, given, water.water);
  return <AmmoniaSaid answer={answer} water={water.water} band={band} now={now} zone={zone} />;
}

/** Oxygen both ways, mg/L and percent, as soon as one is typed. */
function OxygenNow({
  quantity,
  found,
  own,
  water,
  sampledAt,
}: Computed & { readonly quantity: "dissolved_oxygen" | "oxygen_saturation" }) {
  const then = (need: AmmoniaNeed) => own[need] ?? nearSample(water[need], sampledAt)?.value;
  const [temperature, salinity] = [then("temperature"), then("salinity")];
  if (temperature === undefined || salinity === undefined)
    return (
      <p className={css.computed}>
        mg/L and % of saturation cannot be converted: temperature or salinity at the time of sampling is
        missing
      </p>
    );
  const barometer = nearSample(water.pressure, sampledAt)?.value ?? null;
  const around: OxygenWater = { temperature, salinity, barometer, elevation: water.elevation };
  return <p className={css.computed}>{oxygenBothWays({ quantity, value: found.value }, around)}</p>;
}

/** What follows from one result, with what the form and the probes say of the water. */
export function ComputedNow(props: ComputedLineProps) {
  const { quantity, examined } = props;
  const found = examined.get(quantity);
  if (found?.kind !== "read") return null;
  const own: Partial<Record<AmmoniaNeed, number>> = {};
  for (const need of AMMONIA_NEEDS) {
    const typed = examined.get(need);
    if (typed?.kind === "read" && typed.qualifier === "=") own[need] = typed.value;
  }
  if (quantity === "total_ammonia") return <AmmoniaNow {...props} found={found} own={own} />;
  if (quantity !== "dissolved_oxygen" && quantity !== "oxygen_saturation") return null;
  return <OxygenNow {...props} quantity={quantity} found={found} own={own} />;
}

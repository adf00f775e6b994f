import { unionisedAmmonia } from "../chemistry/ammonia.ts";
import type { Water } from "../chemistry/water.ts";
import type { CalibrationScale } from "../set-up/probe-basis.ts";
import type { Instant } from "../time/instant.ts";
import { intervalText, resultText } from "../units/bound-text.ts";
import { QUANTITIES } from "../units/quantity.ts";
import { degC, mgPerLAsN, phUnits, psu } from "../units/unit.ts";
import type { Qualifier } from "./typed-number.ts";

/** One number that went into the answer, as people read it. */
interface Input {
  quantity: string;
  label: string;
  value: number;
  unitLabel: string;
  /** Null where it is a property of the water, not a measurement. */
  at: Instant | null;
  origin: "this test" | "probe" | "bench" | "fresh water";
}
/** Un-ionised ammonia of one test. */
export interface AmmoniaAnswer {
  /** mg/L as N; null where it cannot be computed. */
  value: number | null;
  qualifier: Qualifier;
  /** Interval of about 95 %, mg/L as N. */
  low: number | null;
  high: number | null;
  unit: string;
  unitLabel: string;
  status: "ok" | "extrapolated" | "invalid" | "not known";
  says: string;
  formula: string | null;
  /** nbs where the pH is of a bench meter in ordinary buffers. */
  phScale: CalibrationScale;
  inputs: Input[];
  /** Quantities that would be needed. */
  missing: string[];
}
/** Where a value comes from and when it was true, in the registry's unit. */
export type WaterInput = Pick<Input, "value" | "at" | "origin"> & {
  /** Of a pH; nbs if not given. */
  readonly phScale?: CalibrationScale | undefined;
};
export const AMMONIA_NEEDS = ["ph", "temperature", "salinity"] as const;
export type AmmoniaNeed = (typeof AMMONIA_NEEDS)[number];
export type AmmoniaInputs = Readonly<Partial<Record<AmmoniaNeed, WaterInput>>>;

const NH3 = QUANTITIES.unionised_ammonia;

const labelled = (quantity: AmmoniaNeed | "total_ammonia", { value, at, origin }: WaterInput): Input => {
  const { label, unitLabel } = QUANTITIES[quantity];
  return { quantity, label, unitLabel, value, at, origin };
};

/** The salinity of fresh water, where none is measured. */
export const FRESH_SALINITY: WaterInput = { value: 0, at: null, origin: "fresh water" };

/**
 * Un-ionised ammonia of a total ammonia result (mg/L as N) with the water it was taken from: value, interval, formula, inputs with their
 * times, and a sentence. A probe's pH is on the scale it was calibrated on; a bench meter's is taken as on NBS. Inputs that are missing
 * are named and the value is null ("not known"). Source: as `unionisedAmmonia`.
 */
export function ammoniaOfTest(
  tan: { readonly value: number; readonly qualifier: Qualifier; readonly at: Instant },
  given: AmmoniaInputs,
  water: Water,
): AmmoniaAnswer {
  const inputs = [labelled("total_ammonia", { value: tan.value, at: tan.at, origin: "this test" })];
  for (const quantity of AMMONIA_NEEDS) {
    const input = given[quantity];
    if (input) inputs.push(labelled(quantity, input));
  }
  const common = {
    qualifier: tan.qualifier,
    unit: NH3.unit,
    unitLabel: NH3.unitLabel,
    phScale: given.ph?.phScale ?? "nbs",
    inputs,
  };
  const { ph, temperature: t, salinity: s } = given;
  if (!ph || !t || !s) {
    const missing = AMMONIA_NEEDS.filter((quantity) => given[quantity] === undefined);
    const names = missing.map((quantity) => QUANTITIES[quantity].label).join(", ");
    const says = `Un-ionised ammonia is not known: ${names} at the time of sampling is missing`;
    const nothing = { value: null, low: null, high: null, status: "not known" as const, formula: null };
    return { ...common, ...nothing, says, missing };
  }
  const result = unionisedAmmonia({
    tan: mgPerLAsN(tan.value),
    ph: phUnits(ph.value),
    phScale: common.phScale,
    t: degC(t.value),
    s: psu(s.value),
    water,
  });
  return {
    ...common,
    value: result.value,
    low: result.low,
    high: result.high,
    status: result.status,
    says: sentence(result, tan.qualifier),
    formula: result.formula,
    missing: [],
  };
}

function sentence(
  { value, note, low, high }: ReturnType<typeof unionisedAmmonia>,
  qualifier: Qualifier,
): string {
  if (value === null) return `Un-ionised ammonia cannot be computed: ${note ?? "the inputs give no result"}`;
  const { decimals, unitLabel } = NH3;
  const interval = qualifier === "=" ? intervalText(low, high, decimals) : "";
  const between = interval === "" ? "" : ` (${interval})`;
  return `Un-ionised ammonia ${resultText(value, qualifier, decimals)} ${unitLabel}${between}${note === null ? "" : `; ${note}`}`;
}

import type { BandEdges } from "../habitat/band.ts";
import { deviation } from "../habitat/deviation.ts";
import { median } from "../statistics/robust.ts";
import { edgeWithUnit, numberText, withUnit } from "../units/number-text.ts";
import type { BenchField, UnitChoice } from "./field.ts";
import { implausibleWords, isImplausible, type Qualifier } from "./typed-number.ts";

/** A question to the person at the field. */
export interface BenchQuestion {
  readonly code: "outside_plausible_span" | "far_from_last" | "past_action_limit";
  readonly says: string;
  /** Another unit in which the same digits would be near the last results. */
  readonly perhaps: UnitChoice | null;
}
/** What is known of a quantity here when a result is typed. */
export interface FieldPast {
  /** The last results in the registry's unit, newest first; "less than" and "more than" left out. */
  readonly last: readonly number[];
  readonly band: BandEdges | null;
}

/** A result this many times the usual one, or this part of it, is asked about. Common practice, no source. */
const TIMES = 3;
/** Near enough to the usual result to say which unit was meant. */
const NEAR = 0.25;
/** Differences of so many last places are the method's own. */
const OWN_PLACES = 3;

/** Counted from nothing up, so that a ratio says more than a difference. */
const isRatio = ({ unit, sensor }: BenchField): boolean => sensor[0] === 0 && /\/L|NTU|mL/.test(unit);

/** How far from the usual result a value may lie before it is asked about, in the quantity's unit. */
function allowed(field: BenchField, usual: number, band: BandEdges | null): number {
  const own = OWN_PLACES * 10 ** -field.decimals;
  const [low, high] = [band?.low ?? null, band?.high ?? null];
  if (low !== null && low > 0 && high !== null) return Math.max(own, (high - low) / 2);
  if (isRatio(field)) return Math.max(own, (high ?? 0) / 10, usual * (TIMES - 1));
  const [least, most] = field.plausible;
  return Math.max(own, (most - least) / 10);
}

function isFar(value: number, usual: number, field: BenchField, band: BandEdges | null): boolean {
  const difference = Math.abs(value - usual);
  if (difference > allowed(field, usual, band)) return true;
  // Downwards the same ratio is a smaller difference.
  const own = Math.max(OWN_PLACES * 10 ** -field.decimals, (band?.high ?? 0) / 10);
  return isRatio(field) && usual > 0 && value < usual / TIMES && difference > own;
}

function farWords(value: number, usual: number, { label, decimals, unitLabel }: BenchField): string {
  const ratio = value / usual;
  const last = withUnit(usual, decimals, unitLabel);
  if (usual > 0 && ratio >= TIMES)
    return `That is ${numberText(ratio, 1)} times the usual result here (${last}).`;
  const difference = withUnit(Math.abs(value - usual), decimals, unitLabel);
  return `${label} is ${difference} ${value > usual ? "above" : "below"} the usual result here (${last}).`;
}

/** Another unit of the field in which the digits would be near the usual result. */
function otherUnit(value: number, usual: number, field: BenchField, unit: UnitChoice): UnitChoice | null {
  const digits = (value - unit.offset) / unit.factor;
  const distance = (one: UnitChoice) => Math.abs(digits * one.factor + one.offset - usual);
  const best = field.units
    .filter((one) => one !== unit)
    .sort((a, b) => distance(a) - distance(b))
    .at(0);
  return best && distance(best) <= NEAR * Math.abs(usual) ? best : null;
}

/**
 * The question about a value in the registry's unit, or null where there is none: outside what water can be, far from the median of
 * the last results, or past an action limit where the last results were not. "Less than" is never asked about, because it says that little
 * was found. Thresholds: common practice, no source.
 */
export function questionAbout(
  field: BenchField,
  {
    value,
    qualifier,
    unit,
  }: { readonly value: number; readonly qualifier: Qualifier; readonly unit: UnitChoice },
  { last, band }: FieldPast,
): BenchQuestion | null {
  if (qualifier === "<") return null;
  const usual = last.length === 0 ? null : median(last);
  const far = usual !== null && isFar(value, usual, field, band);
  const perhaps = far ? otherUnit(value, usual, field, unit) : null;
  if (isImplausible(value, field))
    return { code: "outside_plausible_span", says: implausibleWords(value, field), perhaps };
  if (far) {
    const { factor, offset } = perhaps ?? unit;
    const instead = ((value - unit.offset) / unit.factor) * factor + offset;
    const asOther = perhaps
      ? ` If that was ${perhaps.label}, it is ${withUnit(instead, field.decimals, field.unitLabel)}.`
      : "";
    return {
      code: "far_from_last",
      says: `${farWords(value, usual, field)}${asOther} Is it right?`,
      perhaps,
    };
  }
  const past = band === null ? null : deviation(value, band);
  if (band === null || past === null || Math.abs(past) < 1) return null;
  const wasPast = usual !== null && Math.abs(deviation(usual, band) ?? 0) >= 1;
  if (wasPast) return null;
  const limit = past > 0 ? band.actionHigh : band.actionLow;
  const says = `That is past the action limit${limit === null ? "" : ` of ${edgeWithUnit(limit, field.decimals, field.unitLabel)}`}. Is it right?`;
  return { code: "past_action_limit", says, perhaps: null };
}

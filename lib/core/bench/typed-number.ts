import { edgeWithUnit, withUnit } from "../units/number-text.ts";
import type { NumberQuantity } from "../units/quantity-kinds.ts";

/** What reading a result needs to know of its quantity; a subset of the registry's entry. */
export type MeasuredAs = Pick<
  NumberQuantity,
  "label" | "unit" | "unitLabel" | "decimals" | "sensor" | "plausible"
>;
/** registry value = typed value * factor + offset */
export interface TypedUnit {
  readonly factor: number;
  readonly offset: number;
}
export type Qualifier = "=" | "<" | ">";

export interface TypedFault {
  readonly key: "value" | "unit" | "qualifier";
  readonly says: string;
  readonly remedy: string;
}
export type TypedNumber =
  | {
      readonly ok: true;
      /** Digits as typed, without the sign before them: "8.10" keeps its figures. */
      readonly typed: string;
      readonly qualifier: Qualifier;
      /** In the registry's unit. */
      readonly value: number;
    }
  | { readonly ok: false; readonly fault: TypedFault };

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,2})?$/;
const WITH_COMMA = /^[+-]?\d*,\d+$/;
const SIGN = /^([<>])\s*/;

const fault = (key: TypedFault["key"], says: string, remedy: string): TypedNumber => ({
  ok: false,
  fault: { key, says, remedy },
});

/**
 * A bench result as typed, in the registry's unit. `text` may begin with "<" or ">"; `sent` is a qualifier given apart from it; `unit` is
 * undefined where the unit typed does not convert exactly. A blank is never 0, a comma never guessed to be a point, and a value outside
 * the sensor span of `spec` is refused. Faults name what is wrong and what to do. Source: common practice, no source.
 */
export function readTypedNumber(
  text: string,
  spec: MeasuredAs,
  unit: TypedUnit | undefined,
  sent?: Qualifier,
): TypedNumber {
  const whole = text.trim();
  const sign = SIGN.exec(whole)?.[1] as "<" | ">" | undefined;
  const digits = whole.replace(SIGN, "").replace("−", "-");
  if (digits === "") return fault("value", "is blank", "type the number, or leave this result out");
  if (WITH_COMMA.test(digits))
    return fault("value", "has a decimal comma", `use a point: ${digits.replace(",", ".")}`);
  if (!NUMBER.test(digits))
    return fault("value", "is not a number", `type digits and a point, in ${spec.unitLabel || spec.label}`);
  if (sign && sent && sign !== sent)
    return fault("qualifier", `contradicts the value "${whole}"`, `send "${sign}" or none`);
  const qualifier = sign ?? sent ?? "=";
  if (!unit)
    return fault(
      "unit",
      `does not convert exactly to ${spec.unitLabel || `the unit of ${spec.label}`}`,
      `send it in "${spec.unit}"`,
    );
  const value = Number(digits) * unit.factor + unit.offset;
  const [least, most] = spec.sensor;
  const written = (each: number) => withUnit(each, spec.decimals, spec.unitLabel);
  const edge = (limit: number) => edgeWithUnit(limit, spec.decimals, spec.unitLabel);
  if (!(value >= least && value <= most))
    return fault(
      "value",
      `${written(value)} is outside what can be measured`,
      `it must be between ${edge(least)} and ${edge(most)}; check value and unit`,
    );
  if (qualifier === "<" && value === least)
    return fault("value", "nothing can be less than that", "type the method's detection limit after <");
  return { ok: true, typed: digits, qualifier, value };
}

/** True where a value lies outside what water in an aquarium building can be: taken, with a question. */
export function isImplausible(value: number, { plausible: [low, high] }: MeasuredAs): boolean {
  return value < low || value > high;
}

/** The question about such a value. */
export function implausibleWords(
  value: number,
  { label, decimals, unitLabel, plausible: [low, high] }: MeasuredAs,
): string {
  const edge = (limit: number) => edgeWithUnit(limit, decimals, unitLabel);
  return `${label} ${withUnit(value, decimals, unitLabel)} is unusual (${edge(low)} to ${edge(high)} is expected). Is it right, or should it be tested again?`;
}

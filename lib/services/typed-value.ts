import { canonicalUnit, isQuantityId, type NumberQuantity, quantity } from "../core/units/index.ts";
import type { Question } from "../core/wire/answers.ts";
import type { BenchRequest } from "../core/wire/api.ts";
import { unknownQuantity } from "../core/wire/decode.ts";
import { withUnit } from "../core/wire/number-text.ts";
import { type FieldIssue, shorten } from "./errors.ts";

export type SentResult = BenchRequest["results"][number];

/** A result understood: the number in the registry's unit, and as it was typed. */
export interface TypedValue {
  readonly spec: NumberQuantity;
  readonly typed: string;
  readonly qualifier: "=" | "<" | ">";
  readonly unitTyped: string;
  readonly value: number;
  readonly questions: readonly Question[];
}
type Understood =
  | { readonly ok: true; readonly result: TypedValue }
  | { readonly ok: false; readonly issue: FieldIssue };

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,2})?$/;
const WITH_COMMA = /^[+-]?\d*,\d+$/;
const SIGN = /^([<>])\s*/;

/**
 * Reads one bench result as typed. A blank is never 0, a comma is never guessed to be a point, and a unit is converted exactly or the
 * result is refused. Outside what an instrument can show: refused. Outside what water can be: taken, with a question. `field` is the
 * result's path in the body.
 */
export function readTypedValue(sent: SentResult, field: string): Understood {
  const fault = (key: string, value: unknown, says: string, remedy: string): Understood => ({
    ok: false,
    issue: { field: `${field}.${key}`, value: shorten(value), says, remedy },
  });
  const spec = isQuantityId(sent.quantity) ? quantity(sent.quantity) : undefined;
  if (!spec)
    return fault(
      "quantity",
      sent.quantity,
      unknownQuantity(sent.quantity),
      "use a quantity's id from the registry",
    );
  if (spec.kind === "state")
    return fault(
      "quantity",
      sent.quantity,
      "is a state of equipment, not a bench result",
      "send it to POST /api/v1/readings",
    );

  const text = String(sent.value).trim();
  const sign = SIGN.exec(text)?.[1] as "<" | ">" | undefined;
  const digits = text.replace(SIGN, "").replace("−", "-");
  if (digits === "")
    return fault("value", sent.value, "is blank", "type the number, or leave this result out");
  if (WITH_COMMA.test(digits))
    return fault("value", sent.value, "has a decimal comma", `type a point: ${digits.replace(",", ".")}`);
  if (!NUMBER.test(digits))
    return fault(
      "value",
      sent.value,
      "is not a number",
      `type digits and a point, in ${spec.unitLabel || spec.label}`,
    );
  if (sign && sent.qualifier && sign !== sent.qualifier)
    return fault(
      "qualifier",
      sent.qualifier,
      `contradicts the value "${shorten(text)}"`,
      `send "${sign}" or none`,
    );
  const qualifier = sign ?? sent.qualifier ?? "=";

  const unit = canonicalUnit(sent.quantity, sent.unit);
  if (!unit)
    return fault(
      "unit",
      sent.unit,
      `does not convert exactly to ${spec.unitLabel || `the unit of ${spec.label}`}`,
      `send it in "${spec.unit}"`,
    );
  const value = Number(digits) * unit.factor + unit.offset;
  const [least, most] = spec.sensor;
  const written = (limit: number) => withUnit(limit, spec.decimals, spec.unitLabel);
  if (!(value >= least && value <= most))
    return fault(
      "value",
      sent.value,
      `${written(value)} is outside what can be measured`,
      `it must lie between ${written(least)} and ${written(most)}; check value and unit`,
    );
  if (qualifier === "<" && value === least)
    return fault(
      "value",
      sent.value,
      "nothing can be less than that",
      "send the method's detection limit after <",
    );

  const questions: Question[] = [];
  const [low, high] = spec.plausible;
  if (value < low || value > high)
    questions.push({
      code: "outside_plausible_span",
      field: `${field}.value`,
      says: `${spec.label} ${written(value)} is unusual (${written(low)} to ${written(high)} is expected). Is it right, or should it be tested again?`,
    });
  if (unit.basisAssumed)
    questions.push({
      code: "basis_assumed",
      field: `${field}.unit`,
      says: `"${sent.unit}" does not say what it counts; it was taken as ${spec.unitLabel}. Is that what the kit shows?`,
    });
  return { ok: true, result: { spec, typed: digits, qualifier, unitTyped: sent.unit, value, questions } };
}

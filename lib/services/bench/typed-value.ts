import type { Question } from "#contract/answers.ts";
import type { BenchRequest } from "#contract/api.ts";
import { implausibleWords, isImplausible, readTypedNumber } from "#core/bench/typed-number.ts";
import { unknownQuantity } from "#core/gateway/decode.ts";
import { canonicalUnit, isQuantityId, type NumberQuantity, quantity } from "#core/units/index.ts";
import { type FieldIssue, shorten } from "../errors.ts";

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
  if (!spec) {
    const { says, remedy } = unknownQuantity(sent.quantity);
    return fault("quantity", sent.quantity, says, remedy);
  }
  if (spec.kind === "state")
    return fault(
      "quantity",
      sent.quantity,
      "is a state of equipment, not a bench result",
      "send it to POST /api/v1/readings",
    );

  const unit = canonicalUnit(sent.quantity, sent.unit);
  const read = readTypedNumber(String(sent.value), spec, unit, sent.qualifier);
  if (!read.ok) return fault(read.fault.key, sent[read.fault.key], read.fault.says, read.fault.remedy);
  const { typed, qualifier, value } = read;

  const questions: Question[] = [];
  if (isImplausible(value, spec))
    questions.push({
      code: "outside_plausible_span",
      field: `${field}.value`,
      says: implausibleWords(value, spec),
    });
  if (unit?.basisAssumed)
    questions.push({
      code: "basis_assumed",
      field: `${field}.unit`,
      says: `"${sent.unit}" does not say what it is expressed as; it was taken as ${spec.unitLabel}. Is that what the kit shows?`,
    });
  return { ok: true, result: { spec, typed, qualifier, unitTyped: sent.unit, value, questions } };
}

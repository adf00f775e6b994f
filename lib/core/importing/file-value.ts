import { unknownQuantity } from "../gateway/decode.ts";
import { canonicalUnit, quantity, stateIndex } from "../units/index.ts";
import type { ImportPlan, ImportTarget } from "./plan.ts";

export type ValueResult =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly reason: string };
export type CellReader = (cell: string) => ValueResult;

const NUMBER = {
  ".": /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/,
  ",": /^[-+]?(?:\d+,?\d*|,\d+)(?:[eE][-+]?\d+)?$/,
} as const;

/**
 * Reads cells of one target into the registry's unit, or a state's word into its index. A text that is not a number in the chosen way of
 * writing is refused, never corrected: "1.234" with a decimal comma is no number. Gives a sentence where the target itself cannot be.
 */
export function cellReader(target: ImportTarget, decimal: ImportPlan["decimal"]): CellReader | string {
  const spec = quantity(target.quantity);
  if (spec === undefined) return unknownQuantity(target.quantity);
  if (spec.kind === "state") {
    if (target.unit !== null) return `${spec.id} is a state and has no unit: leave it out`;
    return (cell) => {
      const index = stateIndex(spec, cell);
      return index === undefined
        ? refused(`not one of ${spec.words.join(", ")}`)
        : { ok: true, value: index };
    };
  }
  const unit = canonicalUnit(spec.id, target.unit ?? spec.unit);
  if (unit === undefined)
    return `unit "${target.unit}" does not convert exactly to ${spec.unit || "1"}, the unit of ${spec.id}: choose another`;
  const shape = NUMBER[decimal];
  const other = decimal === "." ? "," : ".";
  return (cell) => {
    if (!shape.test(cell)) return refused(whyNot(cell, decimal, other));
    const written = Number(decimal === "." ? cell : cell.replace(",", "."));
    const value = written * unit.factor + unit.offset + 0;
    return Number.isFinite(value) ? { ok: true, value } : refused("too large a number");
  };
}

function whyNot(cell: string, decimal: string, other: string): string {
  if (/^[<>≤≥]/.test(cell)) return "a limit, not a value: record results below detection as bench tests";
  if (NUMBER[other === "," ? "," : "."].test(cell))
    return `not a number with the decimal sign "${decimal}": choose "${other}" if the file uses it`;
  return "not a number: if this text means no value, add it to the texts that mean no value";
}

function refused(reason: string): ValueResult {
  return { ok: false, reason };
}

import type { Fault } from "../faults/fault.ts";
import { unknownQuantity } from "../gateway/decode.ts";
import { canonicalUnit, quantity, stateIndex } from "../units/index.ts";
import type { ImportPlan, ImportTarget } from "./plan.ts";

/** Why a cell is no value: below or above a limit, the other decimal sign, other text, no word of the state, too large. */
export interface ValueFault extends Fault {
  readonly because: "limit" | "decimal" | "text" | "word" | "size";
}
export type ValueResult =
  | { readonly ok: true; readonly value: number }
  | ({ readonly ok: false } & ValueFault);
export type CellReader = (cell: string) => ValueResult;

const NUMBER = {
  ".": /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/,
  ",": /^[-+]?(?:\d+,?\d*|,\d+)(?:[eE][-+]?\d+)?$/,
} as const;

/**
 * Reads cells of one target into the registry's unit, or a state's word into its index. A text that is not a number in the chosen way of
 * writing is refused, never corrected: "1.234" with a decimal comma is no number. Gives a fault where the target itself cannot be.
 */
export function cellReader(target: ImportTarget, decimal: ImportPlan["decimal"]): CellReader | Fault {
  const spec = quantity(target.quantity);
  if (spec === undefined) return unknownQuantity(target.quantity);
  if (spec.kind === "state") {
    if (target.unit !== null)
      return { says: `${spec.id} is a state and has no unit`, remedy: "leave it out" };
    return (cell) => {
      const index = stateIndex(spec, cell);
      return index === undefined
        ? refused(
            "word",
            `not one of ${spec.words.join(", ")}`,
            "correct the cell, or add it to the texts that mean no value",
          )
        : { ok: true, value: index };
    };
  }
  const unit = canonicalUnit(spec.id, target.unit ?? spec.unit);
  if (unit === undefined)
    return {
      says: `unit "${target.unit}" does not convert exactly to ${spec.unit || "1"}, the unit of ${spec.id}`,
      remedy: "choose another",
    };
  const shape = NUMBER[decimal];
  const other = decimal === "." ? "," : ".";
  return (cell) => {
    if (!shape.test(cell)) return whyNot(cell, decimal, other);
    const written = Number(decimal === "." ? cell : cell.replace(",", "."));
    const value = written * unit.factor + unit.offset + 0;
    return Number.isFinite(value)
      ? { ok: true, value }
      : refused("size", "too large a number", "correct the cell");
  };
}

function whyNot(cell: string, decimal: string, other: string): ValueResult {
  if (/^[<>≤≥]/.test(cell))
    return refused("limit", "a limit, not a value", "record results below detection as bench tests");
  if (NUMBER[other === "," ? "," : "."].test(cell))
    return refused(
      "decimal",
      `not a number with the decimal sign "${decimal}"`,
      `choose "${other}" if the file uses it`,
    );
  return refused(
    "text",
    "not a number",
    "if this text means no value, add it to the texts that mean no value",
  );
}

function refused(because: ValueFault["because"], says: string, remedy: string): ValueResult {
  return { ok: false, because, says, remedy };
}

/** What a sum is: a calculation for a person, with its working and its cautions. */
import type { Explanation } from "../working/explanation.ts";
import type { Field, InputIssue, SumValues } from "./field.ts";

export interface OutputSpec {
  readonly name: string;
  readonly label: string;
  /** As people write it; empty for a pure number. */
  readonly unit: string;
  readonly decimals: number;
}
export interface OutputValue {
  readonly value: number | string | null;
  /** Interval of about 95 %, where one is known. */
  readonly low?: number | null;
  readonly high?: number | null;
}
export interface SumResult {
  readonly status: "ok" | "extrapolated" | "invalid";
  readonly note: string | null;
  readonly equation: string;
  readonly outputs: Readonly<Record<string, OutputValue>>;
  readonly explanation: Explanation;
}
export interface Sum {
  /** Kebab-case; the address of its page and its name in the API. */
  readonly name: string;
  readonly label: string;
  readonly group:
    | "Salt and density"
    | "Gases"
    | "pH and carbonate"
    | "Nitrogen"
    | "Light"
    | "Treatment"
    | "Units";
  /** One sentence: what it answers. */
  readonly about: string;
  readonly fields: readonly Field[];
  readonly outputs: readonly OutputSpec[];
  /** What this sum in particular does not know. The line every sum carries is `DEFERS`. */
  readonly cautions: readonly string[];
  /** What has to be known, from the other fields, before anything is shown; nothing where this sum may always answer. */
  readonly asksFor?: (values: SumValues) => readonly InputIssue[];
  readonly run: (values: SumValues) => SumResult;
}

export const DEFERS =
  "A calculation, not an instruction: local codes, product labels and the licensed practitioner in charge decide.";

export const output = (name: string, label: string, unit: string, decimals: number): OutputSpec => ({
  name,
  label,
  unit,
  decimals,
});

/** A result of an equation of the core as a sum's: what is common to all of them. */
export const resultOf = (
  computed: { readonly status: SumResult["status"]; readonly note: string | null; readonly formula: string },
  outputs: SumResult["outputs"],
  explanation: Explanation,
): SumResult => ({
  status: computed.status,
  note: computed.note,
  equation: computed.formula,
  outputs: computed.status === "invalid" ? {} : outputs,
  // Steps are followed to a number; where there is none they would mislead.
  explanation: computed.status === "invalid" ? { ...explanation, steps: [], uncertainty: [] } : explanation,
});

/** Twice a standard uncertainty either way, nothing where it is not known. */
export const about = (
  value: number | null,
  u: number | null,
  least = Number.NEGATIVE_INFINITY,
): OutputValue =>
  value === null || u === null
    ? { value }
    : { value, low: Math.max(least, value - 2 * u), high: value + 2 * u };

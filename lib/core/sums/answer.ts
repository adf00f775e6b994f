import { intervalText } from "../units/bound-text.ts";
import { withUnit } from "../units/number-text.ts";
import { readFields, type Sent } from "./field.ts";
import { DEFERS, type OutputSpec, type OutputValue, type Sum } from "./sum.ts";

/** A sum as it is listed: everything but how it is computed. */
export function sumView({ name, label, group, about, fields, outputs, cautions }: Sum) {
  return {
    name,
    label,
    group,
    about,
    fields: fields.map((field) => {
      const common = {
        name: field.name,
        label: field.label,
        isOptional: field.isOptional,
        hint: field.hint,
      };
      if (field.kind === "choice")
        return {
          ...common,
          kind: "choice" as const,
          choices: field.choices.map((each) => ({ ...each })),
          usual: field.usual,
        };
      if (field.kind === "text") return { ...common, kind: "text" as const, example: field.example };
      const { units, usual, example } = field;
      return {
        ...common,
        kind: "number" as const,
        units: units.map((unit) => ({ ...unit })),
        usual,
        example,
      };
    }),
    outputs: outputs.map((each) => ({ ...each })),
    cautions: [...cautions, DEFERS],
  };
}

function outputText(spec: OutputSpec, { value, low, high }: OutputValue): string {
  if (value === null) return "not known";
  if (typeof value === "string") return value;
  const between = intervalText(low ?? null, high ?? null, spec.decimals);
  return `${withUnit(value, spec.decimals, spec.unit)}${between === "" ? "" : ` (${between})`}`;
}

/**
 * The answer of a sum to what was sent for its fields, or everything wrong with that. Deterministic; inputs that allow no number give
 * status `invalid` and the reason. Throws only where a sum asks for a field it does not name.
 */
export function answerSum(sum: Sum, sent: Readonly<Record<string, Sent>>) {
  const read = readFields(sum.fields, sent);
  if (!read.ok) return read;
  const asked = sum.asksFor?.(read.values) ?? [];
  if (asked.length > 0) return { ok: false as const, issues: asked };
  const { status, note, equation, outputs, explanation } = sum.run(read.values);
  const { expression, range, source, steps, uncertainty } = explanation;
  return {
    ok: true as const,
    answer: {
      name: sum.name,
      label: sum.label,
      status,
      note,
      outputs: sum.outputs.map((spec) => {
        const found = outputs[spec.name] ?? { value: null };
        return {
          ...spec,
          value: found.value,
          low: found.low ?? null,
          high: found.high ?? null,
          text: outputText(spec, found),
        };
      }),
      equation,
      expression: [...expression],
      range,
      source,
      steps: steps.filter((each) => Number.isFinite(each.value)),
      uncertainty: [...uncertainty],
      cautions: [...sum.cautions, DEFERS],
    },
  };
}

import type { BenchAnswer } from "#contract/answers.ts";
import type { FieldHere, LastResult } from "#contract/bench-form-view.ts";
import type { BenchField } from "#core/bench/field.ts";
import type { Draft } from "./draft.ts";

/** Results shown beside a field. */
const LAST = 3;

/** The fields of one point: the usual ones, then what was added or typed, each once. `known` holds fields of quantities that are not usual here. */
export function rowsAt(
  here: readonly FieldHere[],
  { point, added, typed }: Pick<Draft, "point" | "added" | "typed">,
  known: Readonly<Record<string, BenchField>>,
): readonly FieldHere[] {
  const usual = here.filter((row) => row.point === point);
  const filled = Object.keys(typed).filter((quantity) => typed[quantity]?.text !== "");
  const more = [...new Set([...added, ...filled])].filter(
    (quantity) => !usual.some(({ field }) => field.quantity === quantity),
  );
  return [
    ...usual,
    ...more.flatMap((quantity): FieldHere[] => {
      const field = known[quantity] ?? here.find((row) => row.field.quantity === quantity)?.field;
      return field ? [{ point, field, band: null, bandSource: null, last: [] }] : [];
    }),
  ];
}

/** The fields after a test was stored: its results stand first among the last ones. What is not usual here yet is left for the next visit. */
export function withStored(here: readonly FieldHere[], answer: BenchAnswer): readonly FieldHere[] {
  return here.map((row) => {
    if (row.point !== answer.point) return row;
    const own = answer.results.filter(({ quantity }) => quantity === row.field.quantity);
    if (own.length === 0) return row;
    const { sampledAt, analyst } = answer;
    const stored = own.map((one): LastResult => ({ ...one, sampledAt, analyst }));
    const known = row.last.filter(({ id }) => !stored.some((one) => one.id === id));
    const last = [...stored, ...known].sort((a, b) => b.sampledAt - a.sampledAt).slice(0, LAST);
    return { ...row, last };
  });
}

/** The fields after one result was corrected (its successor stands in its place) or voided (null: it is gone from the last ones). */
export function withChange(
  here: readonly FieldHere[],
  { old, next }: { readonly old: string; readonly next: BenchAnswer["results"][number] | null },
): readonly FieldHere[] {
  return here.map((row) => ({
    ...row,
    last: row.last.flatMap((one) => {
      if (one.id !== old) return [one];
      return next === null ? [] : [{ ...one, ...next }];
    }),
  }));
}

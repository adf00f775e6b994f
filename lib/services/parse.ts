import type * as z from "zod";
import { type FieldIssue, invalid, shorten } from "./errors.ts";

/** The value at a path of what was sent; undefined if the path leads nowhere. */
function valueAt(input: unknown, path: readonly PropertyKey[]): unknown {
  let here: unknown = input;
  for (const key of path) {
    if (here === null || typeof here !== "object" || !Object.hasOwn(here, key)) return undefined;
    here = (here as Record<PropertyKey, unknown>)[key];
  }
  return here;
}

type Issue = z.core.$ZodIssue;

const TYPES: Readonly<Record<string, string>> = {
  int: "a whole number",
  number: "a number",
  string: "text",
  array: "a list",
  object: "an object",
};

function remedyFor(issue: Issue): string {
  switch (issue.code) {
    case "unrecognized_keys":
      return `remove ${issue.keys.map((key) => `"${shorten(key)}"`).join(", ")}`;
    case "invalid_type":
      return `give ${TYPES[issue.expected] ?? `a value of type ${issue.expected}`}`;
    case "invalid_value":
      return `use one of ${issue.values.map(String).join(", ")}`;
    case "too_big":
      return `give at most ${issue.maximum}`;
    case "too_small":
      return `give at least ${issue.minimum}`;
    case "custom":
      return typeof issue.params?.remedy === "string" ? issue.params.remedy : "correct it";
    default:
      return "correct it";
  }
}

/** Issues of a failed parse, each naming field, value and remedy. For a union, the branch that came nearest is reported. */
export function issuesOf(error: z.core.$ZodError, input: unknown): FieldIssue[] {
  const issues: FieldIssue[] = [];
  const add = (issue: Issue, before: readonly PropertyKey[]) => {
    const path = [...before, ...issue.path];
    if (issue.code === "invalid_union") {
      const nearest = [...issue.errors].sort((a, b) => a.length - b.length || depth(b) - depth(a))[0];
      if (nearest && nearest.length > 0) {
        for (const inner of nearest) add(inner, path);
        return;
      }
    }
    const value = valueAt(input, path);
    issues.push({
      field: path.map(String).join("."),
      value: value === undefined || issue.code === "unrecognized_keys" ? null : shorten(value),
      says: value === undefined && issue.code === "invalid_type" ? "missing" : issue.message,
      remedy: remedyFor(issue),
    });
  };
  for (const issue of error.issues) add(issue, []);
  return issues;
}

const depth = (branch: readonly Issue[]) => Math.max(0, ...branch.map((issue) => issue.path.length));

/** What was sent, checked by a schema; throws AppError "invalid" with one issue a fault. Nothing is coerced. */
export function parse<S extends z.ZodType>(schema: S, input: unknown): z.output<S> {
  const result = schema.safeParse(input);
  if (!result.success) throw invalid(issuesOf(result.error, input));
  return result.data;
}

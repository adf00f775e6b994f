/** How a value was calculated, as the API sends it and pages show it. */
import * as z from "zod";

const instant = z.number().int().describe("UTC milliseconds");
const number = z.number().nullable();
const mark = z.enum(["below", "above"]).nullable().describe("rests on a result that is only a limit");

const named = {
  quantity: z.string(),
  label: z.string(),
  unit: z.string().describe("UCUM code"),
  unitLabel: z.string(),
  decimals: z.number().int(),
};

export const workingStep = z.object({ name: z.string(), value: z.number(), unit: z.string() });
export type WorkingStep = z.infer<typeof workingStep>;
export const uncertaintyPart = z.object({
  name: z.string(),
  of: z.string().describe("standard uncertainty of the input"),
  adds: z
    .number()
    .describe(
      "its contribution to the result: standard uncertainty in the result's unit, or in percent of it",
    ),
  isRelative: z.boolean(),
});

export type UncertaintyPart = z.infer<typeof uncertaintyPart>;

export const workingInput = z.object({
  ...named,
  value: number.describe("null if there was none recent enough"),
  point: z.string().nullable(),
  origin: z
    .enum(["probe", "bench", "derived", "equipment", "system"])
    .describe("system: a fact of the system, such as fresh water or height above sea"),
  at: instant.nullable().describe("its own time"),
  age: z.number().nullable().describe("milliseconds before the moment computed for"),
  flag: z.number().int().nullable(),
  mark,
  note: z.string().nullable(),
});
export type WorkingInput = z.infer<typeof workingInput>;

export const workingView = z.object({
  system: z.string(),
  point: z.string(),
  ...named,
  at: instant.nullable().describe("the moment computed for: its trigger's own time"),
  value: number,
  low: number.describe("interval of about 95 %"),
  high: number,
  mark,
  status: z.enum(["ok", "extrapolated", "not known"]),
  note: z.string().nullable(),
  isStored: z.boolean().describe("stored by the evaluator; otherwise computed on request"),
  equation: z.string(),
  expression: z.array(z.string()),
  range: z.string(),
  source: z.string(),
  inputs: z.array(workingInput),
  steps: z.array(workingStep),
  uncertainty: z.array(uncertaintyPart),
  text: z.string().describe("all of it as plain text, for print"),
});
export type WorkingView = z.infer<typeof workingView>;

export const derivedNowView = z.object({
  system: z.string(),
  now: instant,
  values: z.array(
    z.object({
      ...named,
      point: z.string(),
      at: instant.nullable(),
      value: number,
      low: number,
      high: number,
      mark,
      status: z.enum(["ok", "extrapolated", "not known"]),
      note: z.string().nullable(),
      isStored: z.boolean(),
    }),
  ),
});
export type DerivedNowView = z.infer<typeof derivedNowView>;

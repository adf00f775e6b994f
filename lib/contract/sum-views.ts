/** Sums as the API lists and answers them. */
import * as z from "zod";
import { uncertaintyPart, workingStep } from "./working-views.ts";

const displayUnit = z.object({ unit: z.string(), label: z.string(), decimals: z.number().int() });
const anyField = {
  name: z.string(),
  label: z.string(),
  isOptional: z.boolean(),
  hint: z.string().nullable(),
};

export const sumField = z.union([
  z.object({
    ...anyField,
    kind: z.literal("number"),
    units: z.array(displayUnit).describe("units it may be given in; default: the first"),
    usual: z.number().nullable().describe("used if omitted"),
    example: z.number().nullable().describe("initial value in a form, in the first unit"),
  }),
  z.object({
    ...anyField,
    kind: z.literal("choice"),
    choices: z.array(z.object({ value: z.string(), label: z.string() })),
    usual: z.string(),
  }),
  z.object({ ...anyField, kind: z.literal("text"), example: z.string() }),
]);

const sumOutput = z.object({
  name: z.string(),
  label: z.string(),
  unit: z.string().describe("as people write it"),
  decimals: z.number().int(),
});

export const sumView = z.object({
  name: z.string(),
  label: z.string(),
  group: z.string(),
  about: z.string(),
  fields: z.array(sumField),
  outputs: z.array(sumOutput),
  cautions: z.array(z.string()),
});

export const sumsView = z.object({ sums: z.array(sumView) });
export type SumsView = z.infer<typeof sumsView>;

export const sumRequest = z.strictObject({
  inputs: z
    .record(
      z.string().max(80),
      z.union([
        z.number(),
        z.string().max(200),
        z.null(),
        z.strictObject({
          value: z.union([z.number(), z.string().max(40)]),
          unit: z.string().max(40).optional(),
        }),
      ]),
    )
    .describe("by field: a number in the field's first unit, a number with its unit, or a choice"),
});

export const sumAnswer = z.object({
  name: z.string(),
  label: z.string(),
  status: z.enum(["ok", "extrapolated", "invalid"]),
  note: z.string().nullable(),
  outputs: z.array(
    sumOutput.extend({
      value: z.union([z.number(), z.string(), z.null()]),
      low: z.number().nullable().describe("interval of about 95 %, where one is known"),
      high: z.number().nullable(),
      text: z.string().describe("with its unit, as people read it"),
    }),
  ),
  equation: z.string(),
  expression: z.array(z.string()),
  range: z.string(),
  source: z.string(),
  steps: z.array(workingStep),
  uncertainty: z.array(uncertaintyPart),
  cautions: z.array(z.string()),
});
export type SumAnswer = z.infer<typeof sumAnswer>;

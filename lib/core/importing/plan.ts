/** How a file of recorded values is to be read: nothing in it is guessed, a person has chosen each part. */
import * as z from "zod";

const text = z.string().min(1).max(500);
const name = z.string().min(1).max(64);

/** Where the values of a column belong. `unit`: the one they are written in; null: the registry's, and always for a state. */
export const importTarget = z.strictObject({
  system: name,
  point: name,
  quantity: name,
  unit: z.string().max(40).nullable(),
});
export type ImportTarget = z.output<typeof importTarget>;

/** Text of date and time; day and month never guessed. `iso`: 2024-03-31 02:30, with or without seconds and offset. */
export const TIME_FORMATS = ["iso", "dmy", "mdy", "epoch_s", "epoch_ms"] as const;
/** A clock time that came twice, in the hour that an autumn change repeats. `order`: as the file runs, the first pass first. */
export const TWICE = ["refuse", "first", "second", "order"] as const;

const time = z.strictObject({
  /** One column of date and time, or one of the date and one of the time. */
  columns: z.array(text).min(1).max(2),
  format: z.enum(TIME_FORMATS),
  /** For times without an offset: `Z`, an offset like `-07:00`, or an IANA zone. Null: every time must carry its own. */
  zone: z.string().min(1).max(64).nullable(),
  twice: z.enum(TWICE),
});

const wide = z.strictObject({
  kind: z.literal("wide"),
  columns: z
    .array(z.strictObject({ column: text, target: importTarget }))
    .min(1)
    .max(200),
});
const long = z.strictObject({
  kind: z.literal("long"),
  /** Columns that together name what a row is about, joined by a slash. */
  name: z.array(text).min(1).max(4),
  value: text,
  targets: z
    .array(z.strictObject({ name: text, target: importTarget }))
    .min(1)
    .max(1_000),
});

export const importPlan = z.strictObject({
  encoding: z.enum(["utf-8", "windows-1252"]),
  delimiter: z
    .string()
    .length(1)
    .refine((one) => !/["\r\n]/.test(one), "cannot be used as a delimiter"),
  decimal: z.enum([".", ","]),
  /** Line of the heading, from 1; what stands above it is left out. */
  headingLine: z.int().min(1).max(1_000),
  time,
  /** Texts that stand for "no value", besides an empty cell. */
  missing: z.array(z.string().min(1).max(40)).max(20),
  layout: z.discriminatedUnion("kind", [wide, long]),
});
export type ImportPlan = z.output<typeof importPlan>;

/** Every target of a plan with the name it is found under, in the plan's order: that of a report's columns. */
export function targetsOf(
  plan: ImportPlan,
): readonly { readonly name: string; readonly target: ImportTarget }[] {
  return plan.layout.kind === "wide"
    ? plan.layout.columns.map(({ column, target }) => ({ name: column, target }))
    : plan.layout.targets;
}

export const placeText = ({ system, point, quantity }: ImportTarget): string =>
  `${system}/${point}/${quantity}`;

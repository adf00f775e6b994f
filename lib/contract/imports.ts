/** Imports of recorded files over the API: requests and views. */
import * as z from "zod";
import { importPlan, TIME_FORMATS } from "#core/importing/plan.ts";
import { IMPORT_STATES, importPosition } from "#core/importing/progress.ts";
import { importReport } from "#core/importing/report.ts";

/** Characters of a file in one request. */
export const PIECE_CHARACTERS = 262_144;
const piece = z.string().max(PIECE_CHARACTERS * 2);
const id = z.string().min(1).max(64);

export const lookRequest = z.strictObject({
  text: piece,
  /** Left out: found from the lines. */
  delimiter: z.string().length(1).optional(),
  headingLine: z.int().min(1).max(1_000).optional(),
});
export const lookView = z.strictObject({
  /** Null where none of the usual ones divides the lines evenly. */
  delimiter: z.string().nullable(),
  header: z.array(z.string()),
  /** The first rows below it. */
  rows: z.array(z.array(z.string())),
  /** Columns whose cells look like times, and how they seem to be written: an offer, to be looked at. */
  times: z.array(z.strictObject({ column: z.string(), format: z.enum(TIME_FORMATS).nullable() })),
});

export const tryRequest = z.strictObject({
  plan: importPlan,
  text: piece,
  final: z.boolean(),
  position: importPosition,
});
export const tryView = z.strictObject({ position: importPosition, report: importReport });

export const beginRequest = z.strictObject({
  plan: importPlan,
  file: z.string().min(1).max(255),
  bytes: z.int().min(1),
  fingerprint: z.string().min(8).max(128),
});
export const pieceRequest = z.strictObject({
  /** Where the piece begins in the file: must be where the import stands. */
  bytes: z.int().min(0),
  text: piece,
  final: z.boolean(),
});
export const withdrawRequest = z.strictObject({ reason: z.string().trim().min(3).max(500) });

export const importView = z.strictObject({
  id,
  file: z.string(),
  bytes: z.int(),
  fingerprint: z.string(),
  plan: importPlan,
  state: z.enum(IMPORT_STATES),
  position: importPosition,
  report: importReport,
  stored: z.int(),
  begun: z.int(),
  begunBy: z.string(),
  changed: z.int(),
  finished: z.int().nullable(),
  withdrawn: z.int().nullable(),
  withdrawnBy: z.string().nullable(),
  reason: z.string().nullable(),
});
export type ImportView = z.output<typeof importView>;
export const importsView = z.strictObject({ imports: z.array(importView) });
export type LookView = z.output<typeof lookView>;
export type TryView = z.output<typeof tryView>;

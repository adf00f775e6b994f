import * as z from "zod";
import type { ImportReport } from "./report.ts";

/** Where an import stands. */
export const IMPORT_STATES = ["running", "done", "withdrawn"] as const;
export type ImportState = (typeof IMPORT_STATES)[number];

/** How far a file has been read: everything before `bytes` is done with. */
export const importPosition = z.strictObject({
  bytes: z.int().min(0),
  /** Of the next row, from 1. */
  line: z.int().min(1),
  /** The heading, once it was read. */
  header: z.array(z.string().max(500)).max(1_000).nullable(),
  /** Time of the last row that had one: tells the first pass of a doubled hour from the second. */
  previous: z.int().nullable(),
});
export type ImportPosition = z.output<typeof importPosition>;

/** What a commit of an import writes beside its readings. */
export interface ImportProgress {
  readonly position: ImportPosition;
  readonly report: ImportReport;
  /** Rows stored so far. */
  readonly stored: number;
  readonly done: boolean;
}

export const EMPTY_POSITION: ImportPosition = { bytes: 0, line: 1, header: null, previous: null };

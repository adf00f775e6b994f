import type { Instant } from "../time/instant.ts";
import type { ImportPlan } from "./plan.ts";
import type { ImportPosition, ImportState } from "./progress.ts";
import type { ImportReport } from "./report.ts";

/** One file being imported, or imported. */
export interface ImportRun {
  readonly id: string;
  readonly source: number;
  /** Name of the file as it was chosen. */
  readonly file: string;
  readonly bytes: number;
  /** Tells one file from another; made by whoever reads the file. */
  readonly fingerprint: string;
  readonly plan: ImportPlan;
  readonly state: ImportState;
  readonly position: ImportPosition;
  readonly report: ImportReport;
  readonly stored: number;
  readonly begun: Instant;
  readonly begunBy: string;
  readonly changed: Instant;
  readonly finished: Instant | null;
  readonly withdrawn: Instant | null;
  readonly withdrawnBy: string | null;
  readonly reason: string | null;
}
export type NewImport = Pick<ImportRun, "id" | "file" | "bytes" | "fingerprint" | "plan" | "begunBy">;

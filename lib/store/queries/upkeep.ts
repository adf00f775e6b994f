import { desc, eq, isNull, lt } from "drizzle-orm";
import type { NewAudit } from "#core/audit/audit.ts";
import { DAY } from "#core/time/instant.ts";
import type { BackupRun } from "#core/upkeep/backup-run.ts";
import type { ProcessReport } from "#core/upkeep/process-report.ts";
import type { Database } from "../kits/postgres.ts";
import type { Tables } from "../tables/tables.ts";
import { addToAudit } from "./audit.ts";
import { addToJournal } from "./journal.ts";
import { fromNewRow } from "./rows.ts";

const REMEMBERED = 90 * DAY;

/** Remembers an attempt; those older than a quarter of a year are removed. */
export async function recordBackup(db: Database, { backupRun }: Tables, run: BackupRun): Promise<void> {
  await db.insert(backupRun).values(run);
  await db.delete(backupRun).where(lt(backupRun.finished, run.finished - REMEMBERED));
}

const withoutNumber = ({ number: _number, ...run }: BackupRun & { readonly number: number }): BackupRun =>
  run;

export async function readBackups(
  db: Database,
  { backupRun }: Tables,
): Promise<{ readonly last: BackupRun | null; readonly good: BackupRun | null }> {
  const newest = () => db.select().from(backupRun).orderBy(desc(backupRun.number)).limit(1);
  const [last] = await newest();
  const [good] = await db
    .select()
    .from(backupRun)
    .where(isNull(backupRun.trouble))
    .orderBy(desc(backupRun.number))
    .limit(1);
  return { last: last ? withoutNumber(last) : null, good: good ? withoutNumber(good) : null };
}

/** A backup has just been put in place of a store: its old sessions are ended, and the audit trail says what happened. */
export async function recordRestore(
  db: Database,
  tables: Tables,
  now: number,
  audit: NewAudit,
): Promise<number> {
  const ended = await db.delete(tables.session).returning({ id: tables.session.id });
  await db.delete(tables.processReport);
  await addToJournal(db, tables, now, [{ kind: "up", ref: "restored" }]);
  await addToAudit(db, tables, audit);
  return ended.length;
}

export async function reportProcess(
  db: Database,
  { processReport }: Tables,
  report: ProcessReport,
): Promise<void> {
  await db
    .insert(processReport)
    .values({ ...report, report: JSON.stringify(report.report) })
    .onConflictDoUpdate({ target: processReport.name, set: fromNewRow(processReport) });
}

export async function readProcesses(
  db: Database,
  { processReport, lease }: Tables,
): Promise<{
  readonly processes: ProcessReport[];
  readonly lease: { readonly holder: string; readonly expires: number } | null;
}> {
  const rows = await db.select().from(processReport).orderBy(processReport.name);
  const [held] = await db
    .select({ holder: lease.holder, expires: lease.expires })
    .from(lease)
    .where(eq(lease.name, "evaluator"));
  // Only reportProcess writes these rows.
  return {
    processes: rows.map((row) => ({ ...row, report: JSON.parse(row.report) as ProcessReport["report"] })),
    lease: held ?? null,
  };
}

import { and, desc, eq, inArray, isNotNull, notInArray, type SQL, sql } from "drizzle-orm";
import type { NewAudit } from "#core/audit/audit.ts";
import type { ImportPlan } from "#core/importing/plan.ts";
import { EMPTY_POSITION, type ImportPosition } from "#core/importing/progress.ts";
import { EMPTY_REPORT, type ImportReport } from "#core/importing/report.ts";
import type { ImportRun, NewImport } from "#core/importing/run.ts";
import type { Database } from "../kits/postgres.ts";
import { type AcceptBatch, type AppendOutcome, type Store, StoreError } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { addToAudit } from "./audit.ts";
import { addToJournal } from "./journal.ts";
import { chunks } from "./rows.ts";
import { makeSource } from "./streams.ts";

/** The sources whose rows are left out. */
export const withdrawnSources = (db: Database, { importRun }: Tables) =>
  db.select({ source: importRun.source }).from(importRun).where(isNotNull(importRun.withdrawn));

/** True of rows that no withdrawn import brought. */
export const stands = (db: Database, tables: Tables): SQL =>
  notInArray(tables.reading.source, withdrawnSources(db, tables));

// Only this file writes these columns.
const runOf = (row: Tables["importRun"]["$inferSelect"]): ImportRun => ({
  ...row,
  plan: JSON.parse(row.plan) as ImportPlan,
  position: row.position === null ? EMPTY_POSITION : (JSON.parse(row.position) as ImportPosition),
  report: JSON.parse(row.report) as ImportReport,
});

export async function readImports(db: Database, { importRun }: Tables, limit: number): Promise<ImportRun[]> {
  return (
    await db.select().from(importRun).orderBy(desc(importRun.begun), desc(importRun.source)).limit(limit)
  ).map(runOf);
}

export async function readImport(db: Database, { importRun }: Tables, id: string): Promise<ImportRun | null> {
  const [row] = await db.select().from(importRun).where(eq(importRun.id, id));
  return row === undefined ? null : runOf(row);
}

export async function beginImport(
  db: Database,
  tables: Tables,
  added: NewImport,
  now: number,
  audit: NewAudit,
): Promise<ImportRun> {
  const source = await makeSource(db, tables, `import:${added.id}`, "import");
  await db.insert(tables.importRun).values({
    ...added,
    source: source.id,
    plan: JSON.stringify(added.plan),
    state: "running",
    position: null,
    report: JSON.stringify(EMPTY_REPORT),
    stored: 0,
    begun: now,
    changed: now,
    finished: null,
    withdrawn: null,
    withdrawnBy: null,
    reason: null,
  });
  await addToAudit(db, tables, audit);
  const run = await readImport(db, tables, added.id);
  if (run === null) throw new StoreError("unavailable", `The import ${added.id} was not stored.`);
  return run;
}

/** Moves an import on with the rows of its batch, in their commit. */
export async function writeImportProgress(
  db: Database,
  tables: Tables,
  { id, expected, progress }: NonNullable<AcceptBatch["importing"]>,
  { fates, received }: Pick<AppendOutcome, "fates" | "received">,
): Promise<void> {
  const run = await readImport(db, tables, id);
  if (run?.state !== "running" || run.position.bytes !== expected)
    throw new StoreError(
      "superseded",
      `The import ${id} is ${run === null ? "not known" : `${run.state} at byte ${run.position.bytes}`}, not running at byte ${expected}: read its position and continue from there.`,
    );
  const { position, report, stored, done } = progress(fates);
  await db
    .update(tables.importRun)
    .set({
      position: JSON.stringify(position),
      report: JSON.stringify(report),
      stored,
      changed: received,
      ...(done ? { state: "done" as const, finished: received } : {}),
    })
    .where(eq(tables.importRun.id, id));
}

type Withdrawal = Parameters<Store["withdrawImport"]>[0];

export async function withdrawImport(
  db: Database,
  tables: Tables,
  { id, by, reason, rejudge }: Withdrawal,
  now: number,
  audit: NewAudit,
): Promise<ImportRun | null> {
  const { importRun, counter } = tables;
  const run = await readImport(db, tables, id);
  if (run === null || run.withdrawn !== null) return null;
  const entries = await addToJournal(
    db,
    tables,
    now,
    rejudge.map((range) => ({ kind: "set-up", rejudge: range })),
  );
  const withdrawn = entries[0]?.received ?? now;
  await db
    .update(importRun)
    .set({ state: "withdrawn", withdrawn, withdrawnBy: by, reason, changed: withdrawn })
    .where(eq(importRun.id, id));
  const raised = await raiseConflicts(db, tables, run.source);
  await dropMarks(db, tables, run.source);
  await db
    .update(counter)
    .set({ value: sql`${counter.value} - ${run.stored - raised}` })
    .where(eq(counter.name, "readings"));
  await addToAudit(db, tables, audit);
  return await readImport(db, tables, id);
}

/** Where another source sent another value for a moment of this import, the first of them takes the place. How many did. */
async function raiseConflicts(db: Database, tables: Tables, source: number): Promise<number> {
  const { reading, readingConflict: conflict, withdrawnReading } = tables;
  const others = await db
    .select({
      stream: conflict.stream,
      at: conflict.at,
      value: conflict.value,
      received: conflict.received,
      source: conflict.source,
      old: { value: reading.value, delay: reading.delay, sequence: reading.sequence },
    })
    .from(conflict)
    .innerJoin(reading, and(eq(reading.stream, conflict.stream), eq(reading.at, conflict.at)))
    .where(and(eq(reading.source, source), notInArray(conflict.source, withdrawnSources(db, tables))))
    .orderBy(conflict.received);
  const first = new Map<string, (typeof others)[number]>();
  for (const row of others) {
    const key = `${row.stream}:${row.at}`;
    if (!first.has(key)) first.set(key, row);
  }
  const rows = [...first.values()];
  for (const chunk of chunks(rows, withdrawnReading))
    await db
      .insert(withdrawnReading)
      .values(chunk.map(({ stream, at, old }) => ({ source, stream, at, ...old })));
  for (const row of rows)
    await db
      .update(reading)
      .set({ value: row.value, delay: row.received - row.at, source: row.source, sequence: null })
      .where(and(eq(reading.stream, row.stream), eq(reading.at, row.at)));
  return rows.length;
}

/** Marks of conflicts that only stood because of this source. */
async function dropMarks(db: Database, tables: Tables, source: number): Promise<void> {
  const { reading, readingConflict: conflict, readingMark: mark, withdrawnReading } = tables;
  const touched = sql`(select ${conflict.stream}, ${conflict.at} from ${conflict} where ${conflict.source} = ${source}
    union select ${withdrawnReading.stream}, ${withdrawnReading.at} from ${withdrawnReading} where ${withdrawnReading.source} = ${source})`;
  const still = sql`exists (select 1 from ${conflict} join ${reading} on ${reading.stream} = ${conflict.stream} and ${reading.at} = ${conflict.at}
    where ${conflict.stream} = ${mark.stream} and ${conflict.at} = ${mark.at} and ${conflict.value} <> ${reading.value}
      and ${notInArray(conflict.source, withdrawnSources(db, tables))})`;
  await db
    .delete(mark)
    .where(
      and(eq(mark.mark, "conflict"), sql`(${mark.stream}, ${mark.at}) in ${touched}`, sql`not ${still}`),
    );
}

export async function readingsAt(
  db: Database,
  tables: Tables,
  moments: Parameters<Store["readingsAt"]>[0],
): Promise<(number | null)[]> {
  const { reading } = tables;
  const byStream = new Map<number, number[]>();
  for (const { stream, at } of moments) {
    const instants = byStream.get(stream);
    if (instants) instants.push(at);
    else byStream.set(stream, [at]);
  }
  const values = new Map<string, number>();
  for (const [stream, instants] of byStream)
    for (const chunk of chunks(instants))
      for (const row of await db
        .select({ at: reading.at, value: reading.value })
        .from(reading)
        .where(and(eq(reading.stream, stream), inArray(reading.at, chunk), stands(db, tables))))
        values.set(`${stream}:${row.at}`, row.value);
  return moments.map(({ stream, at }) => values.get(`${stream}:${at}`) ?? null);
}

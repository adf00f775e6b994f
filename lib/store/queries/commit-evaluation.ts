import { and, eq, gte, inArray, isNull, lt, notInArray, or } from "drizzle-orm";
import { RECEIVE_KINDS, WATER_RULES } from "#core/alarms/kinds.ts";
import { type EvaluationPatch, type Lease, StoreError } from "../port.ts";
import {
  CURRENT_ROWS,
  currentRow,
  DERIVED_ROWS,
  derivedRow,
  FLAG_ROWS,
  flagRow,
  ROLLUP_ROWS,
} from "../tables/bulk.ts";
import type { Tables } from "../tables/tables.ts";
import { type PackedCheckpoint, pruneCheckpoints } from "./checkpoints.ts";
import { writeSenderClocks } from "./clocks.ts";
import { readCursor, writeCursor } from "./cursor.ts";
import type { Transaction } from "./engine.ts";
import { formulaNumbers } from "./formulas.ts";
import { chunks, fromNewRow, lastByKey } from "./rows.ts";

export interface Expected {
  readonly seq: number;
  readonly lease: Lease;
  readonly leaseName: string;
}

/** Writes one evaluation whole, or rejects with "superseded" before anything is written. `checkpoints`: those of the patch, packed. */
export async function commitEvaluation(
  transaction: Transaction,
  tables: Tables,
  patch: EvaluationPatch,
  checkpoints: readonly PackedCheckpoint[],
  expected: Expected,
): Promise<void> {
  const { db } = transaction;
  await assertStillOurs(transaction, tables, expected);
  for (const { streams, from, to } of patch.replace) {
    await transaction.clear(streams, from, to);
    for (const chunk of chunks(streams)) {
      await db
        .update(tables.finding)
        .set({ supersededAt: patch.cursor.received })
        .where(
          and(
            inArray(tables.finding.stream, chunk),
            gte(tables.finding.raised, from),
            lt(tables.finding.raised, to),
            // Silence and windows that ran over belong to the receiving clock; a gap found in a record, to the record.
            or(
              notInArray(tables.finding.kind, [...RECEIVE_KINDS]),
              inArray(tables.finding.rule, [...WATER_RULES]),
            ),
            isNull(tables.finding.supersededAt),
          ),
        );
    }
  }
  await transaction.put(FLAG_ROWS, patch.flags.map(flagRow));
  await writeDerived(transaction, tables, patch);
  await transaction.put(ROLLUP_ROWS, patch.rollups.map(ROLLUP_ROWS.valuesOf));
  await transaction.put(CURRENT_ROWS, patch.current.map(currentRow));
  for (const chunk of chunks(patch.streamsWithoutCurrent))
    await db.delete(tables.current).where(inArray(tables.current.stream, chunk));
  await writeFindings(transaction, tables, patch);
  await writeAlarms(transaction, tables, patch);
  await writeCheckpoints(transaction, tables, patch.dropCheckpoints, checkpoints);
  await writeRejudgeRanges(transaction, tables, patch);
  await writeSenderClocks(db, tables, patch.clocks ?? []);
  await writeCursor(db, tables, patch.cursor);
}

async function assertStillOurs({ db }: Transaction, tables: Tables, expected: Expected): Promise<void> {
  const { seq } = await readCursor(db, tables);
  if (seq !== expected.seq) {
    throw new StoreError(
      "superseded",
      `The evaluation began at journal position ${expected.seq} but the cursor is at ${seq}: read it again and evaluate from there.`,
    );
  }
  const [lease] = await db
    .select({ epoch: tables.lease.epoch })
    .from(tables.lease)
    .where(eq(tables.lease.name, expected.leaseName));
  if (lease?.epoch !== expected.lease.epoch) {
    throw new StoreError(
      "superseded",
      `The lease ${expected.leaseName} is at epoch ${lease?.epoch ?? "none"}, not ${expected.lease.epoch}: another evaluator has taken over.`,
    );
  }
}

async function writeDerived(transaction: Transaction, tables: Tables, patch: EvaluationPatch): Promise<void> {
  if (patch.derived.length === 0) return;
  const texts = new Set(patch.derived.map((row) => row.formula));
  const numbers = await formulaNumbers(transaction.db, tables, texts);
  await transaction.put(
    DERIVED_ROWS,
    patch.derived.map((row) => derivedRow(row, numbers.get(row.formula) as number)),
  );
}

async function writeFindings(
  { db }: Transaction,
  { finding }: Tables,
  patch: EvaluationPatch,
): Promise<void> {
  const recordedAt = patch.cursor.received;
  const rows = lastByKey(patch.findings, (row) => row.id).map((row) => ({
    ...row,
    evidence: JSON.stringify(row.evidence),
    recordedAt,
    supersededAt: null,
  }));
  for (const chunk of chunks(rows, finding)) {
    await db
      .insert(finding)
      .values(chunk)
      .onConflictDoUpdate({ target: finding.id, set: fromNewRow(finding, ["recordedAt"]) });
  }
}

async function writeAlarms({ db }: Transaction, tables: Tables, patch: EvaluationPatch): Promise<void> {
  const { alarm, alarmTransition } = tables;
  for (const chunk of chunks(
    lastByKey(patch.alarms, (row) => row.id),
    alarm,
  )) {
    await db
      .insert(alarm)
      .values(chunk)
      .onConflictDoUpdate({ target: alarm.id, set: fromNewRow(alarm) });
  }
  for (const chunk of chunks(patch.transitions, alarmTransition))
    await db.insert(alarmTransition).values(chunk);
}

async function writeCheckpoints(
  { db }: Transaction,
  tables: Tables,
  drop: EvaluationPatch["dropCheckpoints"],
  checkpoints: readonly PackedCheckpoint[],
): Promise<void> {
  const { checkpoint } = tables;
  for (const { system, from, to } of drop) {
    await db
      .delete(checkpoint)
      .where(and(eq(checkpoint.system, system), gte(checkpoint.at, from), lt(checkpoint.at, to)));
  }
  for (const chunk of chunks(
    lastByKey(checkpoints, (row) => `${row.at} ${row.system}`),
    checkpoint,
  )) {
    await db
      .insert(checkpoint)
      .values(chunk)
      .onConflictDoUpdate({ target: [checkpoint.system, checkpoint.at], set: fromNewRow(checkpoint) });
  }
  for (const system of new Set(checkpoints.map((row) => row.system))) {
    await pruneCheckpoints(db, tables, system);
  }
}

async function writeRejudgeRanges(
  { db }: Transaction,
  { rejudge }: Tables,
  patch: EvaluationPatch,
): Promise<void> {
  for (const chunk of chunks(patch.rejudged)) await db.delete(rejudge).where(inArray(rejudge.system, chunk));
  for (const { system, from } of patch.rejudge) {
    const [known] = await db.select({ from: rejudge.from }).from(rejudge).where(eq(rejudge.system, system));
    await db
      .insert(rejudge)
      .values({ system, from: Math.min(from, known?.from ?? from) })
      .onConflictDoUpdate({ target: rejudge.system, set: fromNewRow(rejudge) });
  }
}

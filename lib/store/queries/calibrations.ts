import { and, asc, desc, eq, inArray, notExists, sql } from "drizzle-orm";
import type { NewAudit } from "#core/audit/audit.ts";
import type { LogVersion } from "#core/logbook/entry.ts";
import type {
  Calibration,
  CalibrationVoid,
  Correction,
  NewCalibration,
  NewCorrection,
  Standard,
} from "#core/probes/calibration.ts";
import type { Database } from "../kits/postgres.ts";
import { type StoredOnce, StoreError } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { addToAudit } from "./audit.ts";
import { addToJournal } from "./journal.ts";
import { writeLog } from "./log.ts";
import { chunks } from "./rows.ts";

/** Stores a visit once a client id, with its correction, logbook mark, journal and audit rows; inside a writing transaction. */
export async function recordCalibration(
  db: Database,
  tables: Tables,
  added: NewCalibration,
  beside: {
    readonly correction: NewCorrection | null;
    readonly log: LogVersion;
    readonly rejudgeFrom: number;
  },
  now: number,
  audit: NewAudit,
): Promise<StoredOnce<Calibration>> {
  const known = await readCalibration(db, tables, { clientId: added.clientId });
  if (known) return { stored: known, repeated: true };
  const rejudge = { stream: added.stream, from: beside.rejudgeFrom };
  const [entry] = await addToJournal(db, tables, now, [{ kind: "calibration", rejudge }]);
  const received = entry?.received ?? now;
  await db
    .insert(tables.calibration)
    .values({ ...added, standards: JSON.stringify(added.standards), received });
  if (beside.correction)
    await db.insert(tables.correction).values({
      ...beside.correction,
      standards: JSON.stringify(beside.correction.standards),
      received,
    });
  await writeLog(db, tables, beside.log, now, null);
  await addToAudit(db, tables, audit);
  return { stored: { ...added, received, voided: null }, repeated: false };
}

/** Marks a visit as entered by mistake, once; its correction is out of force with it. Inside a writing transaction. */
export async function voidCalibration(
  db: Database,
  tables: Tables,
  added: Omit<CalibrationVoid, "received">,
  rejudgeFrom: number,
  now: number,
  audit: NewAudit,
): Promise<StoredOnce<CalibrationVoid>> {
  const { calibrationVoid } = tables;
  const [known] = await db.select().from(calibrationVoid).where(eq(calibrationVoid.clientId, added.clientId));
  if (known !== undefined) return { stored: known, repeated: true };
  const of = await readCalibration(db, tables, { id: added.calibration });
  if (!of) throw new StoreError("invalid", `There is no calibration ${added.calibration} to void.`);
  const rejudge = { stream: of.stream, from: rejudgeFrom };
  const [entry] = await addToJournal(db, tables, now, [{ kind: "calibration", rejudge }]);
  const stored = { ...added, received: entry?.received ?? now };
  await db.insert(calibrationVoid).values(stored);
  await addToAudit(db, tables, audit);
  return { stored, repeated: false };
}

const rowsOf = (db: Database, { calibration, calibrationVoid }: Tables) =>
  db
    .select({ calibration, voided: calibrationVoid })
    .from(calibration)
    .leftJoin(calibrationVoid, eq(calibrationVoid.calibration, calibration.id));

type Row = Awaited<ReturnType<typeof rowsOf>>[number];

const calibrationOf = ({ calibration, voided }: Row): Calibration => ({
  ...calibration,
  standards: JSON.parse(calibration.standards) as Standard[],
  voided,
});

export async function readCalibrations(
  db: Database,
  tables: Tables,
  streams?: readonly number[],
): Promise<Calibration[]> {
  const { calibration } = tables;
  const order = [desc(calibration.at), desc(calibration.received)];
  if (streams === undefined) return (await rowsOf(db, tables).orderBy(...order)).map(calibrationOf);
  const found: Calibration[] = [];
  for (const chunk of chunks([...new Set(streams)])) {
    const rows = await rowsOf(db, tables)
      .where(inArray(calibration.stream, chunk))
      .orderBy(...order);
    for (const row of rows) found.push(calibrationOf(row));
  }
  return found;
}

export async function readCalibration(
  db: Database,
  tables: Tables,
  by: { readonly id: string } | { readonly clientId: string },
): Promise<Calibration | null> {
  const { calibration } = tables;
  const [row] = await rowsOf(db, tables).where(
    "id" in by ? eq(calibration.id, by.id) : eq(calibration.clientId, by.clientId),
  );
  return row ? calibrationOf(row) : null;
}

/** Corrections whose calibration is in force, oldest first. */
export async function readCorrections(
  db: Database,
  { correction, calibrationVoid }: Tables,
  streams: readonly number[],
): Promise<Correction[]> {
  const found: Correction[] = [];
  for (const chunk of chunks([...new Set(streams)])) {
    const rows = await db
      .select()
      .from(correction)
      .where(
        and(
          inArray(correction.stream, chunk),
          notExists(
            db
              .select({ one: sql`1` })
              .from(calibrationVoid)
              .where(eq(calibrationVoid.calibration, correction.calibration)),
          ),
        ),
      )
      .orderBy(asc(correction.from), asc(correction.id));
    for (const row of rows) found.push({ ...row, standards: JSON.parse(row.standards) as Standard[] });
  }
  return found;
}

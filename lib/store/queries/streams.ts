import { and, asc, eq, max } from "drizzle-orm";
import type { ProbeBasis } from "#core/set-up/probe-basis.ts";
import type { Database } from "../kits/postgres.ts";
import { type Origin, type Source, type SourceKind, StoreError, type Stream } from "../port.ts";
import type { Tables } from "../tables/tables.ts";

const streamColumns = ({ stream, point }: Tables) => ({
  id: stream.id,
  system: point.system,
  point: stream.point,
  pointCode: point.code,
  pointRole: point.role,
  quantity: stream.quantity,
  origin: stream.origin,
  interval: stream.interval,
  critical: stream.critical,
  basis: stream.basis,
});

type StreamRow = Omit<Stream, "basis"> & { readonly basis: string | null };
const streamOf = ({ basis, ...row }: StreamRow): Stream =>
  basis === null ? row : { ...row, basis: JSON.parse(basis) as ProbeBasis[] };

export async function readStreams(db: Database, tables: Tables): Promise<Stream[]> {
  const { stream, point } = tables;
  const rows = await db
    .select(streamColumns(tables))
    .from(stream)
    .innerJoin(point, eq(point.id, stream.point))
    .orderBy(asc(stream.id));
  return rows.map(streamOf);
}

export async function findStream(
  db: Database,
  tables: Tables,
  of: { readonly point: string; readonly quantity: string; readonly origin: Origin },
): Promise<Stream | null> {
  const { stream, point } = tables;
  const [found] = await db
    .select(streamColumns(tables))
    .from(stream)
    .innerJoin(point, eq(point.id, stream.point))
    .where(and(eq(stream.point, of.point), eq(stream.quantity, of.quantity), eq(stream.origin, of.origin)));
  return found ? streamOf(found) : null;
}

/** The stream, made where it is new; inside a writing transaction, so that two callers make one. */
export async function makeStream(
  db: Database,
  tables: Tables,
  wanted: Omit<Stream, "id" | "system" | "pointCode" | "pointRole" | "basis">,
): Promise<Stream> {
  const known = await findStream(db, tables, wanted);
  if (known !== null) return known;
  const { stream, point } = tables;
  const [at] = await db.select({ id: point.id }).from(point).where(eq(point.id, wanted.point));
  if (at === undefined) {
    throw new StoreError("invalid", `There is no point with id ${wanted.point}: set up the point first.`);
  }
  const [highest] = await db.select({ id: max(stream.id) }).from(stream);
  await db.insert(stream).values({ ...wanted, id: (highest?.id ?? 0) + 1 });
  const made = await findStream(db, tables, wanted);
  if (made === null) throw new StoreError("unavailable", `The stream of ${wanted.quantity} was not stored.`);
  return made;
}

export async function findSource(db: Database, { source }: Tables, code: string): Promise<Source | null> {
  const [found] = await db.select().from(source).where(eq(source.code, code));
  return found ?? null;
}

/** The source, made where it is new; inside a writing transaction. */
export async function makeSource(
  db: Database,
  tables: Tables,
  code: string,
  kind: SourceKind,
): Promise<Source> {
  const known = await findSource(db, tables, code);
  if (known !== null) return known;
  const { source } = tables;
  const [highest] = await db.select({ id: max(source.id) }).from(source);
  const made = { id: (highest?.id ?? 0) + 1, code, kind };
  await db.insert(source).values(made);
  return made;
}

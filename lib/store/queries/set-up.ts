import { asc, eq, inArray, sql } from "drizzle-orm";
import type { NewAudit } from "#core/audit/audit.ts";
import type { Database } from "../kits/postgres.ts";
import type { BandEdges, Plan, SetUp } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { addToAudit } from "./audit.ts";
import { addToJournal } from "./journal.ts";
import { chunks, fromNewRow, lastByKey } from "./rows.ts";
import { readStreams } from "./streams.ts";

/** Everything set up, every list in a fixed order. */
export async function readSetUp(db: Database, tables: Tables): Promise<SetUp> {
  const { site, loop, loopMember, system, point, source, targetBand, plan, resident, species } = tables;
  const sites = await db.select().from(site).orderBy(asc(site.code));
  const loops = await db.select().from(loop).orderBy(asc(loop.site), asc(loop.code));
  const members = await db.select().from(loopMember).orderBy(asc(loopMember.loop), asc(loopMember.system));
  const systems = await db.select().from(system).orderBy(asc(system.code));
  const points = await db.select().from(point).orderBy(asc(point.system), asc(point.code));
  const streams = await readStreams(db, tables);
  const sources = await db.select().from(source).orderBy(asc(source.id));
  const bands = await db
    .select()
    .from(targetBand)
    .orderBy(asc(targetBand.system), asc(targetBand.quantity), asc(targetBand.validFrom), asc(targetBand.id));
  const plans = await db.select().from(plan).orderBy(asc(plan.system), asc(plan.validFrom), asc(plan.id));
  const residents = await db
    .select({
      id: resident.id,
      system: resident.system,
      species: resident.species,
      speciesName: species.name,
      name: resident.name,
      stage: resident.stage,
      count: resident.count,
      from: resident.from,
      to: resident.to,
      animal: resident.animal,
      population: resident.population,
      sex: resident.sex,
      ended: resident.ended,
      mass: resident.mass,
      massAt: resident.massAt,
      massSource: resident.massSource,
    })
    .from(resident)
    .innerJoin(species, eq(species.id, resident.species))
    .orderBy(asc(resident.system), asc(resident.from), asc(resident.id));
  return {
    sites,
    loops: loops.map((row) => ({
      ...row,
      members: members.filter((member) => member.loop === row.id).map((member) => member.system),
    })),
    systems,
    points,
    streams,
    sources,
    bands: bands.map(({ origin, confirmedBy, ...row }) => ({
      ...row,
      months: JSON.parse(row.months) as BandEdges[],
      ...(origin !== null && { origin }),
      ...(confirmedBy !== null && { confirmedBy }),
    })),
    plans: plans.map((row) => ({ ...row, shape: JSON.parse(row.shape) as Plan["shape"] })),
    residents: residents.map(({ mass, massAt, massSource, ...row }) => ({
      ...row,
      animal: row.animal ?? row.id,
      ...(mass !== null && { mass, massAt, massSource }),
    })),
  };
}

/** Insert or replace by id, parents before children, then what must be judged again. */
export async function writeSetUp(
  db: Database,
  tables: Tables,
  change: Partial<SetUp>,
  rejudge: readonly { readonly system: string; readonly from: number }[],
  now: number,
  audit?: NewAudit,
): Promise<{ readonly received: number | null; readonly audit: number | null }> {
  await upsertSetUp(db, tables, change);
  return noteSetUp(db, tables, rejudge, now, audit);
}

/** Insert or replace by id, parents before children; inside a writing transaction that notes it in the journal. */
export async function upsertSetUp(db: Database, tables: Tables, change: Partial<SetUp>): Promise<void> {
  const { site, loop, loopMember, system, point, stream, source, targetBand, plan, resident, species } =
    tables;
  for (const rows of chunks(change.sites ?? [], site)) {
    await db
      .insert(site)
      .values(rows)
      .onConflictDoUpdate({ target: site.id, set: fromNewRow(site) });
  }
  for (const rows of chunks(change.systems ?? [], system)) {
    await db
      .insert(system)
      .values(rows)
      .onConflictDoUpdate({ target: system.id, set: fromNewRow(system) });
  }
  const loops = change.loops ?? [];
  for (const rows of chunks(loops, loop)) {
    await db
      .insert(loop)
      .values(rows.map(({ id, site: of, code, name }) => ({ id, site: of, code, name })))
      .onConflictDoUpdate({ target: loop.id, set: fromNewRow(loop) });
    await db.delete(loopMember).where(
      inArray(
        loopMember.loop,
        rows.map((row) => row.id),
      ),
    );
  }
  const members = loops.flatMap((row) => row.members.map((member) => ({ loop: row.id, system: member })));
  for (const rows of chunks(members, loopMember))
    await db.insert(loopMember).values(rows).onConflictDoNothing();
  for (const rows of chunks(change.points ?? [], point)) {
    await db
      .insert(point)
      .values(rows)
      .onConflictDoUpdate({ target: point.id, set: fromNewRow(point) });
  }
  for (const rows of chunks(change.streams ?? [], stream)) {
    await db
      .insert(stream)
      .values(
        rows.map(({ id, point: of, quantity, origin, interval, critical, basis }) => ({
          id,
          point: of,
          quantity,
          origin,
          interval,
          critical,
          basis: basis === undefined ? null : JSON.stringify(basis),
        })),
      )
      .onConflictDoUpdate({ target: stream.id, set: fromNewRow(stream) });
  }
  for (const rows of chunks(change.sources ?? [], source)) {
    await db
      .insert(source)
      .values(rows)
      .onConflictDoUpdate({ target: source.id, set: fromNewRow(source) });
  }
  for (const rows of chunks(change.bands ?? [], targetBand)) {
    await db
      .insert(targetBand)
      .values(
        rows.map((row) => ({
          ...row,
          months: JSON.stringify(row.months),
          origin: row.origin ?? null,
          confirmedBy: row.confirmedBy ?? null,
        })),
      )
      .onConflictDoUpdate({ target: targetBand.id, set: fromNewRow(targetBand) });
  }
  for (const rows of chunks(change.plans ?? [], plan)) {
    await db
      .insert(plan)
      .values(rows.map((row) => ({ ...row, shape: JSON.stringify(row.shape) })))
      .onConflictDoUpdate({ target: plan.id, set: fromNewRow(plan) });
  }
  const residents = change.residents ?? [];
  const named = lastByKey(residents, (row) => row.species).map((row) => ({
    id: row.species,
    name: row.speciesName,
  }));
  for (const rows of chunks(named, species)) {
    await db
      .insert(species)
      .values(rows)
      .onConflictDoUpdate({ target: species.id, set: { name: sql`excluded.name` } });
  }
  for (const rows of chunks(residents, resident)) {
    await db
      .insert(resident)
      .values(rows.map(({ speciesName: _named, ...row }) => row))
      .onConflictDoUpdate({ target: resident.id, set: fromNewRow(resident) });
  }
}

/** What must be judged again, and the audit row of the change. */
export async function noteSetUp(
  db: Database,
  tables: Tables,
  rejudge: readonly { readonly system: string; readonly from: number }[],
  now: number,
  audit?: NewAudit,
): Promise<{ readonly received: number | null; readonly audit: number | null }> {
  const entries = await addToJournal(
    db,
    tables,
    now,
    rejudge.map((range) => ({ kind: "set-up", rejudge: range })),
  );
  const seq = audit ? await addToAudit(db, tables, audit) : null;
  return { received: entries.at(-1)?.received ?? null, audit: seq };
}

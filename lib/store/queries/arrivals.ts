import { and, asc, desc, gte, inArray, isNotNull, lt, sql } from "drizzle-orm";
import type { Database } from "../kits/postgres.ts";
import type { ArrivalRow, NumberedReading } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { stands } from "./imports.ts";
import { chunks } from "./rows.ts";

interface Range {
  readonly streams: readonly number[];
  readonly from: number;
  readonly to: number;
}

/** How readings came, by stream, source and span of `width` milliseconds; rows of withdrawn imports are left out. */
export async function readArrivals(
  db: Database,
  tables: Tables,
  { streams, from, to, width }: Range & { readonly width: number },
): Promise<ArrivalRow[]> {
  const { reading } = tables;
  const start = sql<number>`${reading.at} - ${reading.at} % ${sql.raw(String(width))}`.mapWith(Number);
  const rows: ArrivalRow[] = [];
  for (const some of chunks(streams)) {
    rows.push(
      ...(await db
        .select({
          stream: reading.stream,
          source: reading.source,
          start,
          n: sql<number>`count(*)`.mapWith(Number),
          numbered: sql<number>`count(${reading.sequence})`.mapWith(Number),
          shortest: sql<number>`min(${reading.delay})`.mapWith(Number),
          longest: sql<number>`max(${reading.delay})`.mapWith(Number),
          first: sql<number>`min(${reading.at})`.mapWith(Number),
          last: sql<number>`max(${reading.at})`.mapWith(Number),
        })
        .from(reading)
        .where(
          and(inArray(reading.stream, some), gte(reading.at, from), lt(reading.at, to), stands(db, tables)),
        )
        .groupBy(reading.stream, reading.source, start)
        .orderBy(asc(reading.stream), asc(reading.source), asc(start))),
    );
  }
  return rows;
}

/** Readings of one source that carry a number, newest first, at most `limit`. */
export async function readNumbered(
  db: Database,
  { reading }: Tables,
  { source, streams, from, to, limit }: Range & { readonly source: number; readonly limit: number },
): Promise<NumberedReading[]> {
  const rows: NumberedReading[] = [];
  for (const some of chunks(streams)) {
    const found = await db
      .select({ stream: reading.stream, at: reading.at, sequence: reading.sequence })
      .from(reading)
      .where(
        and(
          inArray(reading.stream, some),
          gte(reading.at, from),
          lt(reading.at, to),
          sql`${reading.source} = ${source}`,
          isNotNull(reading.sequence),
        ),
      )
      .orderBy(desc(reading.at))
      .limit(limit);
    for (const row of found) rows.push({ ...row, sequence: row.sequence as number });
  }
  return rows.sort((a, b) => b.at - a.at).slice(0, limit);
}

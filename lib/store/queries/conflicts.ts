import { and, asc, gte, inArray, lt, lte } from "drizzle-orm";
import type { Database } from "../kits/postgres.ts";
import type { StoredReading } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { chunks } from "./rows.ts";

/** Values that were sent for a moment which had one already, in order of (at, stream, receipt). */
export async function conflictsBetween(
  db: Database,
  { readingConflict: conflict }: Tables,
  streams: readonly number[],
  from: number,
  to: number,
  receivedUpTo: number,
): Promise<StoredReading[]> {
  const found: StoredReading[] = [];
  for (const chunk of chunks([...new Set(streams)])) {
    const rows = await db
      .select()
      .from(conflict)
      .where(
        and(
          inArray(conflict.stream, chunk),
          gte(conflict.at, from),
          lt(conflict.at, to),
          lte(conflict.received, receivedUpTo),
        ),
      )
      .orderBy(asc(conflict.at), asc(conflict.stream), asc(conflict.received));
    for (const row of rows) found.push({ ...row, mark: null });
  }
  return found;
}

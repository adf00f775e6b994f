import { and, asc, desc, eq, inArray, lte, max } from "drizzle-orm";
import { DAY } from "#core/time/instant.ts";
import type { Database } from "../kits/postgres.ts";
import { packText, unpackText } from "../packed-text.ts";
import type { Checkpoint } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { chunks } from "./rows.ts";

/** Re-evaluation after late data usually goes back days; a month's first checkpoint is enough for older ranges. */
const ALL_KEPT_FOR = 35 * DAY;

export async function checkpointAtOrBefore(
  db: Database,
  { checkpoint }: Tables,
  system: string,
  at: number,
): Promise<Checkpoint | null> {
  const [found] = await db
    .select()
    .from(checkpoint)
    .where(and(eq(checkpoint.system, system), lte(checkpoint.at, at)))
    .orderBy(desc(checkpoint.at))
    .limit(1);
  return found ? { ...found, state: unpackText(found.state) } : null;
}

export interface PackedCheckpoint extends Omit<Checkpoint, "state"> {
  readonly state: Uint8Array;
}
/** To be done before a commit begins: it takes a third of a millisecond each, and at midnight every system has one. */
export const packCheckpoints = (checkpoints: readonly Checkpoint[]): PackedCheckpoint[] =>
  checkpoints.map((row) => ({ ...row, state: packText(row.state) }));

/** Of a system's checkpoints keeps all within 35 days before the newest, and the first of each UTC month before that. */
export async function pruneCheckpoints(db: Database, { checkpoint }: Tables, system: string): Promise<void> {
  const [newest] = await db
    .select({ at: max(checkpoint.at) })
    .from(checkpoint)
    .where(eq(checkpoint.system, system));
  if (newest?.at == null) return;
  const old = await db
    .select({ at: checkpoint.at })
    .from(checkpoint)
    .where(and(eq(checkpoint.system, system), lte(checkpoint.at, newest.at - ALL_KEPT_FOR - 1)))
    .orderBy(asc(checkpoint.at));
  const month = (at: number) => new Date(at).toISOString().slice(0, 7);
  const surplus = old.filter(({ at }, index) => {
    const before = old[index - 1];
    return before !== undefined && month(before.at) === month(at);
  });
  for (const chunk of chunks(surplus)) {
    await db.delete(checkpoint).where(
      and(
        eq(checkpoint.system, system),
        inArray(
          checkpoint.at,
          chunk.map((row) => row.at),
        ),
      ),
    );
  }
}

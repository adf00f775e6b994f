import { aliasedTable, and, asc, desc, eq, exists, gte, inArray, lt, notExists, or, sql } from "drizzle-orm";
import type { NewAudit } from "#core/audit/audit.ts";
import type { LogEntry, LogVersion, StoredLogVersion } from "#core/logbook/entry.ts";
import type { Database } from "../kits/postgres.ts";
import { type LogRange, StoreError } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { addToAudit } from "./audit.ts";
import { addToJournal } from "./journal.ts";
import { chunks } from "./rows.ts";

/** Stores one version of an entry once a client id, with its journal row; inside a writing transaction. No audit row where the change it belongs to has its own. */
export async function writeLog(
  db: Database,
  tables: Tables,
  added: LogVersion,
  now: number,
  audit: NewAudit | null,
): Promise<{ readonly root: string; readonly received: number; readonly repeated: boolean }> {
  const { logEntry, logEntrySystem } = tables;
  const [known] = await db
    .select({ root: logEntry.root, received: logEntry.received })
    .from(logEntry)
    .where(eq(logEntry.clientId, added.clientId));
  if (known !== undefined) return { ...known, repeated: true };
  if (added.supersedes !== null) {
    const [before] = await db.select().from(logEntry).where(eq(logEntry.id, added.supersedes));
    if (before?.root !== added.root)
      throw new StoreError("invalid", `There is no log entry ${added.supersedes} to correct.`);
  }
  const [entry] = await addToJournal(db, tables, now, [{ kind: "log", ref: added.root }]);
  const received = entry?.received ?? now;
  const { systems, animals, ...row } = added;
  await db.insert(logEntry).values({ ...row, animals: JSON.stringify(animals), received });
  const members = systems.map((system, place) => ({ entry: added.id, system, place }));
  if (members.length > 0) await db.insert(logEntrySystem).values(members);
  if (audit !== null) await addToAudit(db, tables, audit);
  return { root: added.root, received, repeated: false };
}

/** The entries of these roots with every version, oldest first. */
async function entriesOf(
  db: Database,
  tables: Tables,
  roots: readonly string[],
): Promise<Map<string, LogEntry>> {
  const { logEntry, logEntrySystem } = tables;
  const versions = new Map<string, StoredLogVersion[]>();
  for (const chunk of chunks(roots)) {
    const rows = await db
      .select()
      .from(logEntry)
      .where(inArray(logEntry.root, chunk))
      .orderBy(asc(logEntry.received));
    const members = await db
      .select({ entry: logEntrySystem.entry, system: logEntrySystem.system })
      .from(logEntrySystem)
      .innerJoin(logEntry, eq(logEntry.id, logEntrySystem.entry))
      .where(inArray(logEntry.root, chunk))
      .orderBy(asc(logEntrySystem.place));
    const systems = new Map<string, string[]>();
    for (const { entry, system } of members) systems.set(entry, [...(systems.get(entry) ?? []), system]);
    for (const { animals, ...row } of rows) {
      const version = {
        ...row,
        systems: systems.get(row.id) ?? [],
        animals: JSON.parse(animals) as string[],
      };
      const known = versions.get(row.root);
      if (known) known.push(version);
      else versions.set(row.root, [version]);
    }
  }
  return new Map([...versions].map(([root, all]) => [root, { root, versions: all }]));
}

export async function readLogEntry(db: Database, tables: Tables, root: string): Promise<LogEntry | null> {
  return (await entriesOf(db, tables, [root])).get(root) ?? null;
}

/** Entries whose version in force touches [from, to), newest first. */
export async function readLog(db: Database, tables: Tables, query: LogRange): Promise<LogEntry[]> {
  const { logEntry, logEntrySystem } = tables;
  const newer = aliasedTable(logEntry, "newer");
  const rows = await db
    .select({ root: logEntry.root })
    .from(logEntry)
    .where(
      and(
        notExists(db.select({ one: sql`1` }).from(newer).where(eq(newer.supersedes, logEntry.id))),
        query.to === undefined ? undefined : lt(logEntry.at, query.to),
        query.from === undefined
          ? undefined
          : or(gte(logEntry.at, query.from), gte(logEntry.until, query.from), eq(logEntry.open, true)),
        query.open === true ? eq(logEntry.open, true) : undefined,
        query.alarms === undefined ? undefined : inArray(logEntry.alarm, [...query.alarms]),
        query.kinds === undefined ? undefined : inArray(logEntry.kind, [...query.kinds]),
        query.systems === undefined
          ? undefined
          : exists(
              db
                .select({ one: sql`1` })
                .from(logEntrySystem)
                .where(
                  and(
                    eq(logEntrySystem.entry, logEntry.id),
                    inArray(logEntrySystem.system, [...query.systems]),
                  ),
                ),
            ),
      ),
    )
    .orderBy(desc(logEntry.at), desc(logEntry.id))
    .limit(query.limit);
  const roots = rows.map((row) => row.root);
  const entries = await entriesOf(db, tables, roots);
  return roots.flatMap((root) => entries.get(root) ?? []);
}

import type { BackupFacts } from "#core/upkeep/backup-run.ts";
import { databaseFile } from "#store/open/open.ts";
import { backUpPostgres, restorePostgres } from "#store/postgres/backup.ts";
import { backUpSqlite, restoreSqlite } from "#store/sqlite/backup.ts";
import { checkSqlite } from "#store/sqlite/check.ts";

/** The file of an embedded store; null on a server. */
export { databaseFile };

/** Checks the database of a URL: a sentence where something is wrong, null where nothing is; a server looks after its own. */
export function checkDatabase(databaseUrl: string): string | null {
  const file = databaseFile(databaseUrl);
  return file === null ? null : checkSqlite(file);
}

/** Writes a verified backup of the store that a URL names into a file that does not exist yet. Rejects with a StoreError. */
export async function makeBackup(databaseUrl: string, to: string): Promise<BackupFacts> {
  const file = databaseFile(databaseUrl);
  return file === null ? await backUpPostgres(databaseUrl, to) : await backUpSqlite(file, to);
}

/** Puts a backup in place of the store that a URL names. `aside`: where what stood there is kept. Rejects with a StoreError. */
export async function restoreStore(
  databaseUrl: string,
  backup: string,
  stamp: string,
): Promise<{ readonly facts: BackupFacts | null; readonly aside: string | null }> {
  const file = databaseFile(databaseUrl);
  if (file !== null) return await restoreSqlite(backup, file, stamp);
  await restorePostgres(backup, databaseUrl);
  return { facts: null, aside: null };
}

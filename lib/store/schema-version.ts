import { StoreError } from "./port.ts";

/** The number of migrations this program knows; the same for both dialects (a test counts the folders). */
export const SCHEMA_VERSION = 10;

/**
 * Refuses a database this program cannot serve: a newer one always, an older one where it may not migrate.
 * `found` is the number of migrations that have run, 0 for an empty database.
 */
export function checkSchemaVersion(found: number, where: string, mayMigrate: boolean): void {
  if (found > SCHEMA_VERSION) {
    throw new StoreError(
      "newer-schema",
      `The database ${where} has schema ${found} but this program knows schema ${SCHEMA_VERSION}: start the newer program, or restore the backup made before the upgrade.`,
    );
  }
  if (found < SCHEMA_VERSION && !mayMigrate) {
    throw new StoreError(
      "unavailable",
      `The database ${where} has schema ${found} but this program needs schema ${SCHEMA_VERSION}: start the accepting process first; it brings the database up to date.`,
    );
  }
}

import BetterSqlite3 from "better-sqlite3";

/**
 * Checks a database in use without writing: SQLite's quick check, and how full its log is. Gives a sentence where something is wrong,
 * null where nothing is. Rejects where the file cannot be opened.
 */
export function checkSqlite(file: string): string | null {
  const connection = new BetterSqlite3(file, { readonly: true, fileMustExist: true });
  try {
    const found = connection.pragma("quick_check(1)", { simple: true });
    return found === "ok" ? null : `the database is damaged: ${String(found)}`;
  } finally {
    connection.close();
  }
}

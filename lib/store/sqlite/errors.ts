import { StoreError } from "../port.ts";

/** better-sqlite3's error (its `code` is SQLite's extended result code) in the port's words. */
export function sqliteStoreError(error: unknown, where: string): StoreError {
  if (error instanceof StoreError) return error;
  const code = resultCode(error);
  const said = error instanceof Error ? error.message : String(error);
  if (code.startsWith("SQLITE_FULL") || code.startsWith("SQLITE_IOERR")) {
    return new StoreError(
      "full",
      `The disk under ${where} is full or failing (${said}): free space, then try again.`,
      {
        cause: error,
      },
    );
  }
  if (code.startsWith("SQLITE_READONLY")) {
    return new StoreError(
      "read-only",
      `The database ${where} cannot be written (${said}): give this user write access to the file and its folder.`,
      { cause: error },
    );
  }
  if (code.startsWith("SQLITE_CONSTRAINT") || code === "SQLITE_MISMATCH") {
    return new StoreError("invalid", `The database ${where} refused the change: ${said}.`, { cause: error });
  }
  return new StoreError("unavailable", `The database ${where} did not answer: ${said}.`, { cause: error });
}

function resultCode(error: unknown): string {
  for (let inner = error; inner instanceof Error; inner = inner.cause) {
    if ("code" in inner && typeof inner.code === "string" && inner.code.startsWith("SQLITE_"))
      return inner.code;
  }
  return "";
}

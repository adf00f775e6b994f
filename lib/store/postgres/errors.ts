import { StoreError } from "../port.ts";

const DISK_FULL = "53100";
const READ_ONLY = "25006";

/** node-postgres' error (its `code` is a SQLSTATE) in the port's words. Classes: PostgreSQL manual, appendix A. */
export function postgresStoreError(error: unknown, where: string): StoreError {
  if (error instanceof StoreError) return error;
  const state = sqlState(error);
  const said = message(error);
  if (state === DISK_FULL) {
    return new StoreError("full", `The disk under ${where} is full (${said}): free space, then try again.`, {
      cause: error,
    });
  }
  if (state === READ_ONLY) {
    return new StoreError(
      "read-only",
      `The database ${where} cannot be written (${said}): connect to the primary server, or as a user that may write.`,
      { cause: error },
    );
  }
  if (state.startsWith("22") || state.startsWith("23")) {
    return new StoreError("invalid", `The database ${where} refused the change: ${said}.`, { cause: error });
  }
  return new StoreError("unavailable", `The database ${where} did not answer: ${said}.`, { cause: error });
}

function sqlState(error: unknown): string {
  for (let inner = error; inner instanceof Error; inner = inner.cause) {
    if ("code" in inner && typeof inner.code === "string" && /^[0-9A-Z]{5}$/.test(inner.code))
      return inner.code;
  }
  return "";
}

/** The innermost message: drizzle puts the statement in front, a failed connection comes as several errors in one. */
function message(error: unknown): string {
  let inner = error;
  while (inner instanceof Error && inner.cause instanceof Error) inner = inner.cause;
  if (inner instanceof AggregateError) return inner.errors.map(message).join("; ");
  return inner instanceof Error ? inner.message : String(inner);
}

/** What a service refuses or could not do; one family, mapped to a status, a form issue or a log line once at each edge. */
export type AppErrorCode = "not_found" | "forbidden" | "conflict" | "invalid" | "too_many" | "unavailable";

/** One thing wrong with what was sent. */
export interface FieldIssue {
  /** Path of the field as sent, e.g. `results.0.value`; empty for the whole body. */
  readonly field: string;
  /** What was sent there, shortened; null where nothing was. */
  readonly value: string | null;
  /** What is wrong. */
  readonly says: string;
  /** What to do instead. */
  readonly remedy: string;
}

export class AppError extends Error {
  readonly code: AppErrorCode;
  readonly issues: readonly FieldIssue[];
  constructor(
    code: AppErrorCode,
    message: string,
    options: { readonly issues?: readonly FieldIssue[]; readonly cause?: unknown } = {},
  ) {
    super(message, options.cause === undefined ? undefined : { cause: options.cause });
    this.name = "AppError";
    this.code = code;
    this.issues = options.issues ?? [];
  }
}

/** A refusal of one or more fields. */
export function invalid(issues: readonly FieldIssue[]): AppError {
  const first = issues[0];
  const more = issues.length > 1 ? ` (and ${issues.length - 1} more)` : "";
  return new AppError("invalid", first ? `${first.field || "body"}: ${first.says}${more}` : "not valid", {
    issues,
  });
}

export function notFound(what: string, value: string, remedy: string): AppError {
  return new AppError("not_found", `There is no ${what} "${shorten(value)}". ${remedy}`, {
    issues: [{ field: what, value: shorten(value), says: "not known here", remedy }],
  });
}

/** Text of what was sent, short enough for an answer. */
export function shorten(value: unknown): string {
  const text = typeof value === "string" ? value : (JSON.stringify(value) ?? String(value));
  return text.length > 80 ? `${text.slice(0, 80)}…` : text;
}

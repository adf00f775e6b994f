import { randomUUID } from "node:crypto";
import type { Problem } from "#contract/answers.ts";
import { AppError, type AppErrorCode, type FieldIssue } from "#services/errors.ts";
import { BusyError } from "#services/gateway/group-commit.ts";
import { StoreError } from "#store/port.ts";
import { Unauthorised } from "./guard.ts";

const STATUS: Readonly<Record<AppErrorCode, number>> = {
  invalid: 422,
  forbidden: 403,
  not_found: 404,
  conflict: 409,
  too_many: 429,
  unavailable: 503,
};
const TITLES: Readonly<Record<number, string>> = {
  400: "Not readable",
  401: "Say who you are",
  403: "Not allowed",
  404: "Not found",
  409: "Conflict",
  413: "Too large",
  415: "Not JSON",
  422: "Not valid",
  429: "Too many attempts",
  500: "Something broke",
  503: "Not available",
};

/** A request that is refused before any service saw it. */
export class BadRequest extends Error {
  readonly status: 400 | 413 | 415;
  constructor(status: 400 | 413 | 415, message: string) {
    super(message);
    this.name = "BadRequest";
    this.status = status;
  }
}

type Log = (line: { readonly message: string; readonly error: unknown; readonly reference: string }) => void;

function answer(
  status: number,
  detail: string,
  more: { issues?: readonly FieldIssue[]; reference?: string } = {},
  headers = {},
): Response {
  const body: Problem = {
    type: "about:blank",
    title: TITLES[status] ?? "Error",
    status,
    detail,
    ...(more.reference === undefined ? {} : { reference: more.reference }),
    ...(more.issues && more.issues.length > 0 ? { issues: more.issues.map((issue) => ({ ...issue })) } : {}),
  };
  return new Response(JSON.stringify(body), {
    status,
    headers: { "content-type": "application/problem+json", "cache-control": "no-store", ...headers },
  });
}

/**
 * An error as RFC 9457 problem details. What a person can correct is said; an internal failure is logged under a reference, and only the reference
 * is shown, never a stack or a message that was not written for a stranger.
 */
export function problemOf(error: unknown, log: Log): Response {
  if (error instanceof Unauthorised) return answer(401, error.message, {}, { "www-authenticate": "Bearer" });
  if (error instanceof BadRequest) return answer(error.status, error.message);
  if (error instanceof BusyError) return answer(503, error.message, {}, { "retry-after": "1" });
  if (error instanceof AppError && error.code !== "unavailable")
    return answer(STATUS[error.code], error.message, { issues: error.issues });
  const reference = randomUUID();
  log({ message: "a request failed", error, reference });
  if (error instanceof AppError) return answer(503, error.message, { reference });
  if (error instanceof StoreError && error.code !== "invalid")
    return answer(
      503,
      "The store does not answer or cannot be written. Nothing was stored.",
      { reference },
      { "retry-after": "5" },
    );
  return answer(500, "Something broke on the server. Nothing was stored unless the answer before said so.", {
    reference,
  });
}

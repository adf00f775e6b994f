import type { Problem } from "#contract/answers.ts";

/** What became of something that was sent. What stays unanswered may have been stored; sending it again with the same client id is safe. */
export type Sent<T> =
  | { readonly ok: true; readonly value: T }
  | {
      readonly ok: false;
      readonly why: "offline" | "refused" | "sign-in";
      /** One sentence for the reader. */
      readonly says: string;
      readonly status: number | null;
      readonly issues: readonly NonNullable<Problem["issues"]>[number][];
    };

const OFFLINE =
  "No connection to Homewater. Nothing is lost: what you typed stays here. Try again when you are back online.";

async function problemOf(answer: Response): Promise<Problem | null> {
  try {
    const body: unknown = await answer.json();
    return typeof body === "object" && body !== null && "detail" in body ? (body as Problem) : null;
  } catch (notJson) {
    console.info(`An answer ${answer.status} that is not problem details: ${String(notJson)}`);
    return null;
  }
}

/** Sends JSON to the API below /api/v1. Never throws: what went wrong is said in words, with the fields it belongs to. */
export async function send<T>(path: string, body: object): Promise<Sent<T>> {
  return ask<T>(path, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });
}

/** Reads JSON from the API below /api/v1, with the same words for what went wrong. */
export async function read<T>(path: string, signal?: AbortSignal): Promise<Sent<T>> {
  return ask<T>(path, { cache: "no-store", ...(signal === undefined ? {} : { signal }) });
}

async function ask<T>(path: string, options: RequestInit): Promise<Sent<T>> {
  let answer: Response;
  try {
    answer = await fetch(`/api/v1${path}`, { credentials: "same-origin", ...options });
  } catch (failed) {
    console.info(`No answer from ${path}: ${String(failed)}`);
    return { ok: false, why: "offline", says: OFFLINE, status: null, issues: [] };
  }
  if (answer.ok) return { ok: true, value: (await answer.json()) as T };
  const problem = await problemOf(answer);
  if (answer.status === 401) {
    const says = "You are signed out. Sign in again in another tab; what you typed stays here.";
    return { ok: false, why: "sign-in", says, status: 401, issues: [] };
  }
  return {
    ok: false,
    why: "refused",
    says: problem?.detail ?? `Homewater answered ${answer.status} ${answer.statusText}. Try again.`,
    status: answer.status,
    issues: problem?.issues ?? [],
  };
}

/** What is wrong at one field, in words with the remedy; empty where nothing is. */
export function issueAt(sent: Sent<unknown> | null, field: string): string {
  if (sent === null || sent.ok) return "";
  return sent.issues
    .filter((issue) => issue.field === field || issue.field.startsWith(`${field}.`))
    .map((issue) => `${issue.says}: ${issue.remedy}`)
    .join(" ");
}

/** An id for one thing that is sent; the same at each retry. Works without a secure context, unlike randomUUID. */
export function newClientId(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) =>
    byte.toString(16).padStart(2, "0"),
  ).join("");
}

import type { Problem } from "../../../lib/core/wire/answers.ts";

/** What became of a request. `unreached`: nobody answered, or nobody who could store; `signed out`: say who you are and it goes on. */
export type Sent<T> =
  | { readonly kind: "done"; readonly answer: T }
  | { readonly kind: "refused"; readonly says: string; readonly issues: NonNullable<Problem["issues"]> }
  | { readonly kind: "signed out" }
  | { readonly kind: "unreached" };

/** A proxy between may answer with its own page. */
async function problemIn(response: Response): Promise<Partial<Problem>> {
  try {
    return (await response.json()) as Partial<Problem>;
  } catch {
    return {};
  }
}

/** Longer than this and a weak signal is no signal: the test is kept and tried again. */
const PATIENCE_MS = 20_000;

/** Posts JSON to the API. Answers that may become better by waiting (no network, 408, 429, 5xx) count as not reached. */
export async function post<T>(path: string, body: unknown): Promise<Sent<T>> {
  let response: Response;
  try {
    response = await fetch(`/api/v1${path}`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(body),
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    if (response.ok) return { kind: "done", answer: (await response.json()) as T };
  } catch (failed) {
    console.info(`Not sent: ${String(failed)}`);
    return { kind: "unreached" };
  }
  if (response.status === 401) return { kind: "signed out" };
  if (response.status >= 500 || response.status === 408 || response.status === 429)
    return { kind: "unreached" };
  const problem = await problemIn(response);
  const issues = problem.issues ?? [];
  const says = issues.map(({ says: one, remedy }) => `${one}; ${remedy}`).join(". ");
  return { kind: "refused", says: says || (problem.detail ?? `refused (${response.status})`), issues };
}

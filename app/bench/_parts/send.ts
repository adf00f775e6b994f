import { send } from "#app/_components/live/send.ts";
import type { Problem } from "#contract/answers.ts";

/** What became of a test. `unreached`: nobody answered, or nobody who could store; `signed out`: say who you are and it goes on. */
export type Posted<T> =
  | { readonly kind: "done"; readonly answer: T }
  | { readonly kind: "refused"; readonly says: string; readonly issues: NonNullable<Problem["issues"]> }
  | { readonly kind: "signed out" }
  | { readonly kind: "unreached" };

/** Longer than this and a weak signal is no signal: the test is kept and tried again, which stores it once all the same. */
const PATIENCE_MS = 8_000;

/** Posts to the API. Answers that may become better by waiting (no network, 408, 429, 5xx) count as not reached. */
export async function post<T>(path: string, body: object): Promise<Posted<T>> {
  if (!navigator.onLine) return { kind: "unreached" };
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<null>((resolve) => {
    timer = setTimeout(() => resolve(null), PATIENCE_MS);
  });
  const sent = await Promise.race([send<T>(path, body), late]);
  clearTimeout(timer);
  if (sent === null) return { kind: "unreached" };
  if (sent.ok) return { kind: "done", answer: sent.value };
  if (sent.why === "sign-in") return { kind: "signed out" };
  const { status } = sent;
  if (status === null || status >= 500 || status === 408 || status === 429) return { kind: "unreached" };
  const issues = [...sent.issues];
  return {
    kind: "refused",
    says: issues.map(({ says, remedy }) => `${says}: ${remedy}`).join(". ") || sent.says,
    issues,
  };
}

import type { Logger } from "pino";

/** How often the same failure is logged again while it lasts. */
const AGAIN_MS = 10_000;

/**
 * Says that messages could not be stored: the first at once, then how many it were every ten seconds. A store that is down refuses
 * thousands of messages a second, and a full disk is not helped by a line for each.
 */
export function createTroubleLog(
  log: Logger,
  elapsed: () => number = () => performance.now(),
): { notStored(error: unknown, topic: string): Error } {
  let said: { readonly message: string; readonly at: number } | null = null;
  let unsaid = 0;
  return {
    notStored(error, topic) {
      const trouble = error instanceof Error ? error : new Error(String(error));
      unsaid += 1;
      const now = elapsed();
      if (said?.message !== trouble.message || now - said.at >= AGAIN_MS) {
        log.error({ topic, trouble: trouble.message, messages: unsaid }, "not stored, not acknowledged");
        said = { message: trouble.message, at: now };
        unsaid = 0;
      }
      return trouble;
    },
  };
}

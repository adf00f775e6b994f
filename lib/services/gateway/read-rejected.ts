import type { RejectedView } from "#contract/answers.ts";
import type { ReadDeps } from "../deps.ts";
import { demandAll } from "../scope.ts";

export const USUAL_ROWS = 100;

/** Messages that could not be read, last seen first, with their first bytes as text. */
export async function readRejected(
  { store, seesAll }: Pick<ReadDeps, "store" | "seesAll">,
  limit = USUAL_ROWS,
): Promise<RejectedView> {
  demandAll({ seesAll }, "The list of rejected messages");
  const decoder = new TextDecoder();
  const rows = await store.readRejected(limit);
  return {
    rejected: rows.map(({ topic, source, reason, sample, bytes, count, firstSeen, lastSeen }) => ({
      topic,
      source,
      reason,
      sample: decoder.decode(sample),
      bytes,
      count,
      firstSeen,
      lastSeen,
    })),
  };
}

import type { UnclaimedView } from "#contract/answers.ts";
import type { ReadDeps } from "../deps.ts";
import { demandAll } from "../scope.ts";
import { USUAL_ROWS } from "./read-rejected.ts";

/** Topics that name something which is not set up, last seen first. */
export async function readUnclaimed(
  { store, seesAll }: Pick<ReadDeps, "store" | "seesAll">,
  limit = USUAL_ROWS,
): Promise<UnclaimedView> {
  demandAll({ seesAll }, "The list of unclaimed topics");
  const rows = await store.readUnclaimed(limit);
  return {
    unclaimed: rows.map(({ topic, count, firstSeen, lastSeen }) => ({ topic, count, firstSeen, lastSeen })),
  };
}

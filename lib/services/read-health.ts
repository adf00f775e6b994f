import type { HealthView } from "../core/wire/answers.ts";
import type { ReadDeps } from "./deps.ts";
import { AppError } from "./errors.ts";

/** Whether the store answers; with `detail` how far evaluation has come. Throws AppError "unavailable" where it does not answer. */
export async function readHealth(
  { store, clock }: Pick<ReadDeps, "store" | "clock">,
  version: string,
  detail: boolean,
): Promise<HealthView> {
  const status = await store.status().catch((cause: unknown) => {
    throw new AppError(
      "unavailable",
      "The store does not answer. See the server's log; the doctor command names the cause.",
      { cause },
    );
  });
  const open = { ok: true, version, schema: status.schema };
  if (!detail) return open;
  const { journal, cursor, dialect, where, dirty, counts } = status;
  return {
    ...open,
    detail: {
      now: clock(),
      dialect,
      where,
      journal,
      cursor,
      behind: {
        entries: Math.max(0, (journal?.seq ?? 0) - (cursor?.seq ?? 0)),
        ms: journal && cursor ? Math.max(0, journal.received - cursor.received) : 0,
      },
      dirty: dirty.map((range) => ({ ...range })),
      counts: { ...counts },
    },
  };
}

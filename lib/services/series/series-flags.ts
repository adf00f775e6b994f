import { RAW_PAGE } from "#contract/api.ts";
import type { SeriesView } from "#contract/views.ts";
import type { Store, Stream } from "#store/port.ts";
import type { Drawn } from "./series-columns.ts";

const SUSPECT = 3;

/** Why readings were set aside, for raw columns that hold such; nothing is read where there are none. */
export async function flaggedOf(store: Store, stream: Stream, drawn: Drawn): Promise<SeriesView["flagged"]> {
  const { at, flag } = drawn.columns;
  const first = flag.findIndex((one) => one >= SUSPECT);
  if (drawn.resolution !== "raw" || stream.origin === "bench" || first < 0) return undefined;
  const last = flag.findLastIndex((one) => one >= SUSPECT);
  const rows = await store.readFlags(stream.id, at[first] ?? 0, (at[last] ?? 0) + 1, RAW_PAGE);
  return rows
    .filter((row) => row.flag >= SUSPECT)
    .map((row) => ({ at: row.at, flag: row.flag, reasons: [...row.reasons] }));
}

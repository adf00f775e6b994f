import { type IndexedSetUp, indexSetUp, type SystemSetUp } from "#core/set-up/system-set-up.ts";
import type { Instant } from "#core/time/instant.ts";
import { SECOND } from "#core/time/instant.ts";
import type { Store } from "#store/port.ts";
import { notFound } from "./errors.ts";

export type { IndexedSetUp, SystemSetUp };

export interface SetUpReader {
  /** What is set up now; `knows` lists streams that must be in it (they were seen in other rows). */
  read(knows?: readonly number[]): Promise<IndexedSetUp>;
  /** The same, read again unless nothing at all was committed since: for a name that was not found. */
  readAgain(): Promise<IndexedSetUp>;
}

/** A stream created by its first reading writes no set-up entry, so what is remembered is never older than this. */
const OLDEST = SECOND;
const ENTRIES = 500;

/**
 * Remembers what is set up until the journal names a change, a row refers to an unknown stream, or a second has passed since something
 * was committed. Set-up is a few thousand rows and is asked for by every page and ten times a second by the live updates.
 */
export function createSetUpReader(store: Store, clock: () => Instant): SetUpReader {
  let kept: { index: IndexedSetUp; mark: number; seq: number; readAt: Instant } | undefined;

  async function load(mark: number, seq: number): Promise<IndexedSetUp> {
    const index = indexSetUp(await store.readSetUp());
    kept = { index, mark, seq, readAt: clock() };
    return index;
  }

  return {
    async readAgain() {
      const mark = await store.changeMark();
      if (kept?.mark === mark) return kept.index;
      return load(mark, kept?.seq ?? (await store.readCursor()).seq);
    },
    async read(knows = []) {
      const mark = await store.changeMark();
      if (!kept) return load(mark, (await store.readCursor()).seq);
      const { index } = kept;
      const hasAll = knows.every((id) => index.streams.has(id));
      if (hasAll && mark === kept.mark) return index;
      const entries = await store.journalAfter(kept.seq, ENTRIES);
      const seq = entries.at(-1)?.seq ?? kept.seq;
      const changed = entries.length === ENTRIES || entries.some((entry) => entry.kind === "set-up");
      const age = clock() - kept.readAt;
      if (!hasAll || changed || age < 0 || age >= OLDEST) return load(mark, seq);
      // The mark stays the one this set-up was read at: a stream created just now is found when the second is over.
      kept = { ...kept, seq };
      return index;
    },
  };
}

/** What `pick` finds in the set-up. What it refuses is looked for once more in a fresh reading, because it may have been made just now. */
export async function lookUp<T>(reader: SetUpReader, pick: (index: IndexedSetUp) => T): Promise<T> {
  const index = await reader.read();
  try {
    return pick(index);
  } catch (refused) {
    const newest = await reader.readAgain();
    if (newest === index) throw refused;
    return pick(newest);
  }
}

/** The system of that short name; throws AppError "not_found" otherwise. */
export function systemOf(index: IndexedSetUp, code: string): SystemSetUp {
  const found = index.byCode.get(code);
  if (found) return found;
  throw notFound("system", code, "GET /api/v1/systems lists the short names.");
}

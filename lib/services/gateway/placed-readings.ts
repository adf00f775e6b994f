/** Readings at the time they stand for: where a sender's clock ran ahead and a person placed them, their stamps are not that time. */
import { aheadBy, type ClockBook, clockBookOf, NO_CLOCKS, offsetsIn } from "#core/gateway/clock-book.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Span } from "#core/time/spans.ts";
import type { Store, StoredReading } from "#store/port.ts";

export async function readClockBook(store: Pick<Store, "readSenderClocks">): Promise<ClockBook> {
  const { clocks, placements } = await store.readSenderClocks();
  return clocks.length === 0 ? NO_CLOCKS : clockBookOf(clocks, placements);
}

/**
 * Readings as they were sent, of those that stand for a time in [from, to): `aheadBy` of the book says by how much each stamp is ahead. Held
 * ones are there by their stamps. In order of their stamps only where nothing was placed.
 */
export async function readingsPlaced(
  store: Pick<Store, "readingsBetween" | "conflictsBetween">,
  book: ClockBook,
  streams: readonly number[],
  { from, to }: Span,
  receivedUpTo: Instant,
): Promise<readonly StoredReading[]> {
  if (streams.length === 0) return [];
  const sent = await store.readingsBetween(streams, from, to, receivedUpTo);
  if (streams.every((stream) => !book.has(stream))) return sent;
  const found = await withSecondValues(store, book, sent, { from, to }, receivedUpTo);
  for (const offset of offsetsIn(book, streams)) {
    const until = to === Number.MAX_SAFE_INTEGER ? to : to + offset;
    const shifted = await store.readingsBetween(streams, from + offset, until, receivedUpTo);
    for (const reading of shifted)
      if (aheadBy(book, reading) === offset) found.push({ ...reading, mark: withoutConflict(reading.mark) });
  }
  return found;
}

/** That another value was sent for the stamp says nothing about a reading that was measured at another time. */
const withoutConflict = (mark: StoredReading["mark"]) => (mark === "conflict" ? null : mark);

/**
 * Readings under a right clock, and held ones; where a right clock came back to stamps that were used before, too early, its values stand
 * there.
 */
async function withSecondValues(
  store: Pick<Store, "conflictsBetween">,
  book: ClockBook,
  sent: readonly StoredReading[],
  { from, to }: Span,
  receivedUpTo: Instant,
): Promise<StoredReading[]> {
  const wrong = new Map(
    sent.filter((each) => aheadBy(book, each) !== 0).map((each) => [`${each.stream} ${each.at}`, each]),
  );
  const second = new Map<string, StoredReading>();
  if (wrong.size > 0)
    for (const value of await store.conflictsBetween([...book.keys()], from, to, receivedUpTo)) {
      const key = `${value.stream} ${value.at}`;
      if (wrong.has(key) && aheadBy(book, value) === 0 && !second.has(key)) second.set(key, value);
    }
  return sent.flatMap((each) => {
    const value = second.get(`${each.stream} ${each.at}`);
    if (value) return [value];
    return (aheadBy(book, each) ?? 0) > 0 ? [] : [each];
  });
}

/** Of the values that one commit sent for moments which had one already, those that a clock had stamped too early before. */
export async function secondValuesOf(
  store: Pick<Store, "readingsBetween" | "conflictsBetween">,
  book: ClockBook,
  conflicts: readonly (readonly [stream: number, at: Instant])[],
  received: Instant,
): Promise<StoredReading[]> {
  const found: StoredReading[] = [];
  for (const [stream, at] of conflicts) {
    if (!book.has(stream)) continue;
    const [first] = await store.readingsBetween([stream], at, at + 1, received);
    if (!first || aheadBy(book, first) === 0) continue;
    const values = await store.conflictsBetween([stream], at, at + 1, received);
    found.push(...values.filter((value) => value.received === received));
  }
  return found;
}

/** Before or at the first reading that stands for a time at or after `from`; null where there is none. */
export async function firstReadingPlaced(
  store: Pick<Store, "firstReadingAt">,
  book: ClockBook,
  streams: readonly number[],
  from: Instant,
): Promise<Instant | null> {
  let first = await store.firstReadingAt(streams, from);
  for (const offset of offsetsIn(book, streams)) {
    const stamp = await store.firstReadingAt(streams, from + offset);
    if (stamp !== null) first = Math.min(first ?? stamp - offset, stamp - offset);
  }
  return first;
}

/** Readings of these streams in [from, to), at the time they stand for, oldest first; those that are held are left out. */
export async function believedReadings(
  store: Pick<Store, "readingsBetween" | "conflictsBetween" | "readSenderClocks">,
  streams: readonly number[],
  span: Span,
): Promise<readonly StoredReading[]> {
  const book = await readClockBook(store);
  const readings = await readingsPlaced(store, book, streams, span, Number.MAX_SAFE_INTEGER);
  if (streams.every((stream) => !book.has(stream))) return readings;
  return readings
    .flatMap((reading) => {
      const ahead = aheadBy(book, reading);
      return ahead === null ? [] : [{ ...reading, at: reading.at - ahead }];
    })
    .sort((a, b) => a.at - b.at || a.stream - b.stream);
}

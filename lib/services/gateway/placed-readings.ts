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
  store: Pick<Store, "readingsBetween">,
  book: ClockBook,
  streams: readonly number[],
  { from, to }: Span,
  receivedUpTo: Instant,
): Promise<readonly StoredReading[]> {
  if (streams.length === 0) return [];
  const sent = await store.readingsBetween(streams, from, to, receivedUpTo);
  const offsets = offsetsIn(book, streams);
  if (offsets.length === 0) return sent;
  const found = sent.filter((reading) => !((aheadBy(book, reading) ?? 0) > 0));
  for (const offset of offsets) {
    const until = to === Number.MAX_SAFE_INTEGER ? to : to + offset;
    const shifted = await store.readingsBetween(streams, from + offset, until, receivedUpTo);
    for (const reading of shifted) if (aheadBy(book, reading) === offset) found.push(reading);
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
  store: Pick<Store, "readingsBetween" | "readSenderClocks">,
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

/** What becomes of readings that came under a clock that ran ahead: held, or placed at the corrected time. */
import type { Instant } from "../time/instant.ts";
import type { ClockAhead } from "./clock-ahead.ts";

/** A person's decision: what came under this clock was measured `offset` milliseconds before its stamp. */
export interface ClockPlacement {
  readonly id: string;
  readonly clientId: string;
  readonly clock: string;
  readonly offset: number;
  readonly by: string;
  readonly byId: string;
  readonly received: Instant;
}

interface Entry {
  readonly source: number;
  readonly since: Instant;
  readonly until: Instant;
  /** Null: held. */
  readonly offset: number | null;
}
/** By stream; empty where no clock was ever wrong. */
export type ClockBook = ReadonlyMap<number, readonly Entry[]>;

export const NO_CLOCKS: ClockBook = new Map();

/** `placements`: those in force. */
export function clockBookOf(clocks: readonly ClockAhead[], placements: readonly ClockPlacement[]): ClockBook {
  if (clocks.length === 0) return NO_CLOCKS;
  const offsets = new Map(placements.map(({ clock, offset }) => [clock, offset]));
  const book = new Map<number, Entry[]>();
  for (const { stream, source, since, until, clock } of clocks) {
    const entry = {
      ...{ source, since, until: until ?? Number.POSITIVE_INFINITY },
      offset: offsets.get(clock) ?? null,
    };
    const own = book.get(stream);
    if (own) own.push(entry);
    else book.set(stream, [entry]);
  }
  return book;
}

interface Sent {
  readonly stream: number;
  readonly source: number;
  readonly received: Instant;
}

/** By how much a reading's stamp is ahead: 0 for one under a right clock, null where it is held until somebody says. */
export function aheadBy(book: ClockBook, sent: Sent): number | null {
  const entry = book
    .get(sent.stream)
    ?.find(
      ({ source, since, until }) => source === sent.source && sent.received >= since && sent.received < until,
    );
  return entry ? entry.offset : 0;
}

/** By how much stamps of these streams are ahead where people placed them, each once: where else to look for what was measured at a time. */
export function offsetsIn(book: ClockBook, streams: readonly number[]): number[] {
  if (book.size === 0) return [];
  const offsets = streams.flatMap((stream) => book.get(stream)?.flatMap(({ offset }) => offset ?? []) ?? []);
  return [...new Set(offsets)];
}

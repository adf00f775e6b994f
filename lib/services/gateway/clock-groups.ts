/** What tells of one clock, put together: the streams of a sender come one by one. */
import type { ClockAhead } from "#core/gateway/clock-ahead.ts";
import type { ClockPlacement } from "#core/gateway/clock-book.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Store } from "#store/port.ts";

export interface ClockGroup {
  /** The id of the first. */
  readonly id: string;
  readonly source: number;
  readonly members: readonly ClockAhead[];
  readonly since: Instant;
  readonly until: Instant | null;
  /** The stream that came fastest tells best. */
  readonly offset: number;
  readonly uncertainty: number;
  readonly placement: ClockPlacement | null;
}

function groupOf(members: readonly ClockAhead[], placement: ClockPlacement | null): ClockGroup | null {
  const best = members.reduce<ClockAhead | null>(
    (found, each) => (found === null || each.offset > found.offset ? each : found),
    null,
  );
  if (best === null) return null;
  const ends = members.map(({ until }) => until ?? Number.POSITIVE_INFINITY);
  const end = Math.max(...ends);
  return {
    id: best.clock,
    source: best.source,
    members,
    since: Math.min(...members.map(({ since }) => since)),
    until: Number.isFinite(end) ? end : null,
    offset: best.offset,
    uncertainty: best.uncertainty,
    placement,
  };
}

/** Every clock that ran ahead, oldest first. */
export async function readClockGroups(store: Pick<Store, "readSenderClocks">): Promise<ClockGroup[]> {
  const { clocks, placements } = await store.readSenderClocks();
  const byClock = new Map<string, ClockAhead[]>();
  for (const row of clocks) byClock.set(row.clock, [...(byClock.get(row.clock) ?? []), row]);
  const inForce = new Map(placements.map((row) => [row.clock, row]));
  return [...byClock].flatMap(([clock, members]) => groupOf(members, inForce.get(clock) ?? null) ?? []);
}

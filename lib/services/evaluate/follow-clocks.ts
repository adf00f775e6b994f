/** Follows senders' clocks through the journal: what is found is known to the readings of the same commit, and stored with its verdicts. */
import {
  type ClockAhead,
  type ClockFollower,
  type ClockNews,
  followClock,
  followerOf,
  forgetBlocks,
  isCalm,
  type Stamped,
} from "#core/gateway/clock-ahead.ts";
import { type ClockBook, type ClockPlacement, clockBookOf } from "#core/gateway/clock-book.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Store, StoredReading } from "#store/port.ts";
import { isHistory, type Senders } from "./inputs.ts";

export class SenderClocks {
  private constructor(
    private readonly rows: Map<string, ClockAhead>,
    private placements: readonly ClockPlacement[],
    private readonly follower: ClockFollower,
  ) {}

  static async open(store: Pick<Store, "readSenderClocks">): Promise<SenderClocks> {
    const { clocks, placements } = await store.readSenderClocks();
    return new SenderClocks(new Map(clocks.map((row) => [row.id, row])), placements, followerOf(clocks));
  }

  /** What people decided has changed. The clocks themselves are followed here alone. */
  async reread(store: Pick<Store, "readSenderClocks">): Promise<void> {
    this.placements = (await store.readSenderClocks()).placements;
  }

  book(): ClockBook {
    return clockBookOf([...this.rows.values()], this.placements);
  }

  /** Takes the readings of one commit; returns what has become known by them. */
  follow(
    readings: readonly StoredReading[],
    received: Instant,
    sources: Senders["sources"],
    intervalOf: (stream: number) => number | null,
  ): readonly ClockNews[] {
    if (readings.every(({ at }) => isCalm(this.follower, at, received))) return [];
    forgetBlocks(this.follower, received);
    const stamped = new Map<string, Stamped>();
    for (const { source, stream, at } of readings) {
      if (isHistory(sources.get(source))) continue;
      const key = `${source}.${stream}`;
      const known = stamped.get(key);
      stamped.set(key, {
        ...{ source, stream, received, interval: known ? known.interval : intervalOf(stream) },
        oldest: Math.min(at, known?.oldest ?? at),
        newest: Math.max(at, known?.newest ?? at),
      });
    }
    const news = [...stamped.values()].flatMap((each) => followClock(this.follower, each) ?? []);
    for (const { clock } of news) this.rows.set(clock.id, clock);
    return news;
  }
}

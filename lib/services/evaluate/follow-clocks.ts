/** Follows senders' clocks through the journal: what is found is known to the readings of the same commit, and stored with its verdicts. */
import { isTimeDoubtful } from "#core/evaluate/fold.ts";
import { noteArrival, type ReceiveEffects } from "#core/evaluate/receive-state.ts";
import {
  type ClockAhead,
  type ClockFollower,
  followClock,
  followerOf,
  forgetBlocks,
  isCalm,
  type Stamped,
} from "#core/gateway/clock-ahead.ts";
import { type ClockBook, type ClockPlacement, clockBookOf } from "#core/gateway/clock-book.ts";
import type { Instant } from "#core/time/instant.ts";
import type { JournalEntry, Store, StoredReading } from "#store/port.ts";
import { secondValuesOf } from "../placed-readings.ts";
import { inputOfReading, isHistory } from "./inputs.ts";
import type { PatchBuilder } from "./patch.ts";
import { markRejudge, type RejudgeMarks } from "./rejudge-marks.ts";
import type { CompiledSetUp } from "./settings-of.ts";
import type { SystemEvaluation } from "./system-evaluation.ts";

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

  /** Takes the readings of one commit; true where it made something known, which is in the patch then. */
  follow(
    readings: readonly StoredReading[],
    received: Instant,
    setUp: CompiledSetUp,
    patch: PatchBuilder,
    marks: RejudgeMarks,
  ): boolean {
    if (readings.every(({ at }) => isCalm(this.follower, at, received))) return false;
    forgetBlocks(this.follower, received);
    const news = this.stampsOf(readings, received, setUp).flatMap(
      (each) => followClock(this.follower, each) ?? [],
    );
    for (const { clock, judgeAgainFrom } of news) {
      this.rows.set(clock.id, clock);
      patch.clocks.set(clock.id, clock);
      const system = setUp.systemOf.get(clock.stream);
      if (judgeAgainFrom !== null && system !== undefined)
        markRejudge(marks, system, judgeAgainFrom, clock.stream);
    }
    return news.length > 0;
  }

  private stampsOf(readings: readonly StoredReading[], received: Instant, setUp: CompiledSetUp): Stamped[] {
    const stamped = new Map<string, Stamped>();
    for (const { source, stream, at } of readings) {
      if (isHistory(setUp.sources.get(source))) continue;
      const key = `${source}.${stream}`;
      const known = stamped.get(key);
      stamped.set(key, {
        ...{ source, stream, received },
        interval: streamIn(setUp, stream)?.interval ?? null,
        oldest: Math.min(at, known?.oldest ?? at),
        newest: Math.max(at, known?.newest ?? at),
      });
    }
    return [...stamped.values()];
  }
}

const streamIn = ({ systems, systemOf }: CompiledSetUp, id: number) =>
  systems.get(systemOf.get(id) ?? "")?.byId.get(id);

/** What a clock that was set right sends for moments that it had used before; folded when these are judged again. */
export async function secondValues(
  store: Pick<Store, "readingsBetween" | "conflictsBetween">,
  { clocks }: Pick<CompiledSetUp, "clocks">,
  { spans, received }: JournalEntry,
): Promise<readonly StoredReading[]> {
  if (clocks.size === 0 || !spans || spans.conflicts.length === 0) return [];
  return secondValuesOf(store, clocks, spans.conflicts, received);
}

/** They are a sign of life like any other. */
export function noteSecondValues(
  second: readonly StoredReading[],
  setUp: CompiledSetUp,
  runs: ReadonlyMap<string, SystemEvaluation>,
  effects: ReceiveEffects,
): void {
  for (const reading of second) {
    const run = runs.get(setUp.systemOf.get(reading.stream) ?? "");
    const stream = run?.settings.byId.get(reading.stream);
    if (run && stream && !isTimeDoubtful(inputOfReading(reading, setUp)))
      noteArrival(run.receiving, run.settings, stream, reading.received, effects);
  }
}

import type { Instant } from "../../core/time/instant.ts";
import type { ReadingTopic, WireReading } from "../../core/wire/index.ts";
import type { NewReading, Rejected, SourceKind, Store, Unclaimed } from "../../store/port.ts";
import type { Directory } from "./directory.ts";
import type { Part, Receipt } from "./message.ts";

/** Stores groups of messages; each group is one durable commit. */
export interface Committer {
  /**
   * One receipt a message, in the order given; `now` is the receiving clock. Rejects, with nothing written, where the store does.
   * The parts of one message share its receipt.
   */
  commit(messages: readonly (readonly Part[])[], now: Instant): Promise<Receipt[]>;
}

type Readings = Extract<Part, { kind: "readings" }>;

export function createCommitter(store: Store, directory: Directory): Committer {
  /** Last time of receipt given to a reading without a time, by stream: two in one millisecond are two readings. */
  const lastReceipt = new Map<number, Instant>();

  const kindOf = (part: Readings, reading: WireReading): SourceKind =>
    reading.history ? "history" : part.senderKind;

  async function learnNames(messages: readonly (readonly Part[])[]): Promise<void> {
    const wanted = new Map<string, ReadingTopic>();
    for (const parts of messages)
      for (const part of parts)
        if (part.kind === "readings" && directory.streamOf(part.topic) === undefined)
          wanted.set(part.topic, part.names);
    if (wanted.size > 0) await directory.learn(wanted);
  }

  function receiptTime(stream: number, at: Instant): Instant {
    const last = lastReceipt.get(stream);
    const unique = last !== undefined && at <= last ? last + 1 : at;
    lastReceipt.set(stream, unique);
    return unique;
  }

  /** A number where it is known, so that the usual case waits for nothing. */
  function sourceOf(client: string, kind: SourceKind): number | Promise<number> {
    return directory.sourceOf(client, kind) ?? directory.learnSource(client, kind);
  }

  async function unclaimedOf(part: Readings): Promise<Unclaimed> {
    const first = part.readings[0] as WireReading;
    return {
      topic: part.topic,
      readings: part.readings.map(({ at, sent, unit }) => ({ at, value: sent, unit })),
      source: await sourceOf(part.client, kindOf(part, first)),
    };
  }

  return {
    async commit(messages, now) {
      await directory.relearn();
      await learnNames(messages);
      const readings: NewReading[] = [];
      const rejected: Rejected[] = [];
      const unclaimed: Unclaimed[] = [];
      const ends: { readonly readings: number; readonly unclaimed: number }[] = [];
      for (const parts of messages) {
        let kept = 0;
        for (const part of parts) {
          if (part.kind === "rejected") {
            rejected.push(part.rejected);
            continue;
          }
          const stream = directory.streamOf(part.topic) ?? null;
          if (stream === null) {
            unclaimed.push(await unclaimedOf(part));
            kept += part.readings.length;
            continue;
          }
          for (const reading of part.readings) {
            const source = sourceOf(part.client, kindOf(part, reading));
            readings.push({
              stream,
              at: reading.timed ? reading.at : receiptTime(stream, reading.at),
              value: reading.value,
              source: typeof source === "number" ? source : await source,
              sequence: reading.sequence,
              mark: part.dup && !reading.timed ? "possible_repeat" : null,
            });
          }
        }
        ends.push({ readings: readings.length, unclaimed: kept });
      }
      const { fates, received } = await store.append({ now, readings, rejected, unclaimed });
      let next = 0;
      return messages.map((parts, index) => {
        const end = ends[index] as (typeof ends)[number];
        const counts = { stored: 0, duplicate: 0, conflict: 0 };
        for (; next < end.readings; next += 1) {
          const fate = fates[next];
          if (fate === undefined)
            throw new Error(`the store gave ${fates.length} fates for ${readings.length} readings`);
          counts[fate] += 1;
        }
        const refused = parts.find((part) => part.kind === "rejected");
        const taken = counts.stored + counts.duplicate + counts.conflict > 0;
        return {
          outcome: refused ? "rejected" : taken ? "accepted" : "unclaimed",
          stored: counts.stored,
          duplicates: counts.duplicate,
          conflicts: counts.conflict,
          unclaimed: end.unclaimed,
          reason: refused?.kind === "rejected" ? refused.rejected.reason : null,
          received,
        };
      });
    },
  };
}

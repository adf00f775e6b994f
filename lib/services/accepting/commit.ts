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
    let wanted: Map<string, ReadingTopic> | undefined;
    for (const parts of messages)
      for (const part of parts) {
        if (part.kind !== "readings") continue;
        if (directory.streamOf(part.topic) === undefined) {
          wanted ??= new Map();
          wanted.set(part.topic, part.names);
        }
      }
    if (wanted !== undefined) await directory.learn(wanted);
  }

  async function sourceOf(part: Readings, reading: WireReading): Promise<number> {
    const kind = kindOf(part, reading);
    return directory.sourceOf(part.client, kind) ?? (await directory.learnSource(part.client, kind));
  }

  function receiptTime(stream: number, at: Instant): Instant {
    const last = lastReceipt.get(stream);
    const unique = last !== undefined && at <= last ? last + 1 : at;
    lastReceipt.set(stream, unique);
    return unique;
  }

  async function unclaimedOf(part: Readings): Promise<Unclaimed> {
    const first = part.readings[0] as WireReading;
    return {
      topic: part.topic,
      readings: part.readings.map(({ at, sent, unit }) => ({ at, value: sent, unit })),
      source: await sourceOf(part, first),
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
            const kind = kindOf(part, reading);
            readings.push({
              stream,
              at: reading.timed ? reading.at : receiptTime(stream, reading.at),
              value: reading.value,
              source:
                directory.sourceOf(part.client, kind) ?? (await directory.learnSource(part.client, kind)),
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

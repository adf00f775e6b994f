import type { ReadingTopic, WireReading } from "#core/gateway/index.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Fate, NewReading, Rejected, SourceKind, Store, Unclaimed } from "#store/port.ts";
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
      /** How many readings stand before the end of each message, and how many of it are kept unclaimed. */
      const ends = new Int32Array(messages.length);
      const unclaimedOfMessage = new Int32Array(messages.length);
      for (const [index, parts] of messages.entries()) {
        for (const part of parts) {
          if (part.kind === "rejected") {
            rejected.push(part.rejected);
            continue;
          }
          const stream = directory.streamOf(part.topic) ?? null;
          if (stream === null) {
            unclaimed.push(await unclaimedOf(part));
            unclaimedOfMessage[index] = (unclaimedOfMessage[index] ?? 0) + part.readings.length;
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
        ends[index] = readings.length;
      }
      const { fates, received } = await store.append({ now, readings, rejected, unclaimed });
      if (fates.length !== readings.length)
        throw new Error(
          `the store reported what became of ${fates.length} readings, but ${readings.length} were sent`,
        );
      // Nearly every message is one reading that was stored: they share a receipt.
      const usual = receiptOf({ stored: 1, duplicate: 0, conflict: 0 }, 0, null, received);
      let next = 0;
      return messages.map((parts, index) => {
        const end = ends[index] as number;
        const kept = unclaimedOfMessage[index] as number;
        if (end - next === 1 && kept === 0 && parts.length === 1 && fates[next] === "stored") {
          next = end;
          return usual;
        }
        const counts = { stored: 0, duplicate: 0, conflict: 0 };
        for (; next < end; next += 1) counts[fates[next] as Fate] += 1;
        const refused = parts.find((part) => part.kind === "rejected");
        const reason = refused?.kind === "rejected" ? refused.rejected.reason : null;
        return receiptOf(counts, kept, reason, received);
      });
    },
  };
}

function receiptOf(
  { stored, duplicate, conflict }: Readonly<Record<Fate, number>>,
  unclaimed: number,
  reason: string | null,
  received: Instant,
): Receipt {
  const taken = stored + duplicate + conflict > 0;
  return {
    outcome: reason !== null ? "rejected" : taken ? "accepted" : "unclaimed",
    stored,
    duplicates: duplicate,
    conflicts: conflict,
    unclaimed,
    reason,
    received,
  };
}

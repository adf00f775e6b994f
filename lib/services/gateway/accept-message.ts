import type { Instant } from "#core/time/instant.ts";
import { type SourceKind, type Store, StoreError } from "#store/port.ts";
import { createCommitter } from "./commit.ts";
import { createDirectory } from "./directory.ts";
import {
  createGroupCommit,
  GROUP_LIMITS,
  type GroupCounts,
  type GroupLimits,
  type Settle,
} from "./group-commit.ts";
import { createDecoder, type Message, type Receipt, rejectedPart } from "./message.ts";
import { partsOfSent, type SentReading } from "./sent-readings.ts";

export interface AcceptorDeps {
  readonly store: Store;
  /** The receiving wall clock. */
  readonly clock: () => Instant;
  readonly limits?: GroupLimits;
}
/** Counts since this process began; the store's own counts are permanent. */
export interface AcceptCounts extends GroupCounts {
  /** Messages whose readings belong to a stream, and readings of each fate. */
  readonly accepted: number;
  readonly stored: number;
  readonly duplicates: number;
  readonly conflicts: number;
  readonly rejected: number;
  readonly unclaimed: number;
}
export interface Acceptor {
  /** Takes one message: resolves after the commit that holds it (or its rejection); rejects where it is not stored: then do not acknowledge it. */
  accept(message: Message): Promise<Receipt>;
  /** The same with a callback, for an edge that takes in tens of thousands a second. */
  acceptThen(message: Message, settle: Settle): void;
  /** Files a message that was not read at all (too large, not allowed) with the reason. `bytes` is its size on the wire. */
  reject(
    message: Pick<Message, "topic" | "payload" | "client">,
    reason: string,
    bytes?: number,
  ): Promise<Receipt>;
  /** Takes readings sent through the API, all or none. Throws AppError "invalid" naming each entry at fault. */
  acceptReadings(
    readings: readonly SentReading[],
    sender: { readonly client: string; readonly kind: SourceKind },
  ): Promise<Receipt>;
  /** Stores these messages in one commit of their own at a receive time that is given: for a loader with a clock of its own. */
  acceptBatch(now: Instant, messages: readonly Message[]): Promise<Receipt[]>;
  isPressed(): boolean;
  relief(): Promise<void>;
  drained(): Promise<void>;
  counts(): AcceptCounts;
}

/** Approximate memory of one reading while it waits. */
const BYTES_A_READING = 64;
const NOTHING: Receipt = {
  outcome: "ours",
  stored: 0,
  duplicates: 0,
  conflicts: 0,
  unclaimed: 0,
  reason: null,
  received: null,
};
const isRefusedByStore = (error: unknown): error is StoreError =>
  error instanceof StoreError && error.code === "invalid";

/**
 * The one way in for readings: decode, check, commit, and only then say so. Nothing is interpreted here. Messages that come while a
 * commit runs share the next one. A bad message is filed with its first bytes and a reason, and disturbs no other.
 */
export function createAcceptor({ store, clock, limits = GROUP_LIMITS }: AcceptorDeps): Acceptor {
  // Durations are measured on a clock that does not step.
  const elapsed = () => performance.now();
  const directory = createDirectory(store, elapsed);
  const committer = createCommitter(store, directory);
  const group = createGroupCommit(
    async (messages) => {
      const receipts = await committer.commit(messages, clock());
      for (const receipt of receipts) counted(receipt);
      return receipts;
    },
    isRefusedByStore,
    elapsed,
    limits,
    (error, { message, settle }) => {
      if (message === null || !isRefusedByStore(error)) return false;
      // Sent again it would be refused again: it is filed like any other bad message.
      reject(message, error.message, settle);
      return true;
    },
  );
  const decode = createDecoder();
  const totals = { accepted: 0, stored: 0, duplicates: 0, conflicts: 0, rejected: 0, unclaimed: 0 };

  function counted(receipt: Receipt): void {
    if (receipt.outcome !== "ours") totals[receipt.outcome] += 1;
    totals.stored += receipt.stored;
    totals.duplicates += receipt.duplicates;
    totals.conflicts += receipt.conflicts;
  }

  function reject(
    message: Pick<Message, "topic" | "payload" | "client">,
    reason: string,
    settle: Settle,
    bytes?: number,
  ): void {
    group.add([rejectedPart(message, reason, bytes)], message.payload.length, settle);
  }

  function acceptThen(message: Message, settle: Settle): void {
    const part = decode(message, clock());
    if (part === null) {
      settle(null, NOTHING);
      return;
    }
    group.add([part], message.payload.length, settle, message);
  }

  return {
    acceptThen,
    accept: (message) => promised((settle) => acceptThen(message, settle)),
    reject: (message, reason, bytes) => promised((settle) => reject(message, reason, settle, bytes)),

    async acceptReadings(readings, { client, kind }) {
      const parts = await partsOfSent(readings, { client, kind }, clock(), directory.siteOf);
      if (parts.length === 0) return NOTHING;
      const bytes = readings.length * BYTES_A_READING;
      return await promised((settle) => group.add(parts, bytes, settle));
    },

    async acceptBatch(now, messages) {
      const parts = messages.map((message) => decode(message, now));
      const receipts = await committer.commit(
        parts.map((part) => (part === null ? [] : [part])),
        now,
      );
      return receipts.map((receipt, index) => {
        if (parts[index] === null) return NOTHING;
        counted(receipt);
        return receipt;
      });
    },

    isPressed: group.isPressed,
    relief: group.relief,
    drained: group.drained,
    counts: () => ({ ...totals, ...group.counts() }),
  };
}

function promised(begin: (settle: Settle) => void): Promise<Receipt> {
  return new Promise((resolve, reject) => {
    begin((error, receipt) => (receipt === null ? reject(error) : resolve(receipt)));
  });
}

import type { Message, Part, Receipt } from "./message.ts";

export interface GroupLimits {
  /** Messages and bytes waiting at most; past either a message is turned away, and its sender must send it again. */
  readonly waitingMessages: number;
  readonly waitingBytes: number;
  /** Readings in one commit at most (a message is never split, so one more message may go over). */
  readonly readingsPerCommit: number;
}
export const GROUP_LIMITS: GroupLimits = {
  waitingMessages: 50_000,
  waitingBytes: 64 * 1024 * 1024,
  readingsPerCommit: 5_000,
};

export interface GroupCounts {
  readonly waiting: number;
  readonly lastCommitMs: number | null;
  readonly failedCommits: number;
  /** The store's last error; null since the last successful commit. */
  readonly trouble: string | null;
}
export interface GroupCommit {
  /**
   * Calls `settle` after the commit that holds the message, with its receipt; or with the error of that commit, and then nothing of
   * the message is stored. A callback and not a promise: it is called for every message there is.
   */
  add(parts: readonly Part[], bytes: number, settle: Settle, message?: Message): void;
  /** True while more than half of what may wait is waiting: an edge that can stop reading should. */
  isPressed(): boolean;
  /** Resolves when it is no longer pressed, at once where it is not. */
  relief(): Promise<void>;
  /** Resolves when nothing waits and nothing is being written. */
  drained(): Promise<void>;
  counts(): GroupCounts;
}
export type Settle = (error: unknown, receipt: Receipt | null) => void;
/** A message that the store will not have, of which nothing is stored: true where somebody sees to it and will settle it. */
export type Refused = (error: unknown, waiting: Waiting) => boolean;
export class BusyError extends Error {
  constructor(waiting: number) {
    super(`${waiting} messages are waiting to be stored: no more are accepted until the store has caught up`);
    this.name = "BusyError";
  }
}

export interface Waiting {
  readonly parts: readonly Part[];
  readonly bytes: number;
  readonly settle: Settle;
  /** What it was decoded from, where that was a message. */
  readonly message: Message | null;
}

/**
 * Collects messages while the last commit runs and hands them to the next one: under load one durable commit serves hundreds of
 * messages, and a lone message waits for no timer, only for the current turn of the event loop, so that what arrived
 * together is stored together. `isOneMessagesFault` tells an error that a single message can cause from one that concerns them all;
 * the message that did is shown to `refused`.
 */
export function createGroupCommit(
  commit: (messages: readonly (readonly Part[])[]) => Promise<Receipt[]>,
  isOneMessagesFault: (error: unknown) => boolean,
  elapsed: () => number,
  limits: GroupLimits = GROUP_LIMITS,
  refused: Refused = () => false,
): GroupCommit {
  let waiting: Waiting[] = [];
  let waitingBytes = 0;
  let writing = 0;
  let running = false;
  let lastCommitMs: number | null = null;
  let failedCommits = 0;
  let trouble: string | null = null;
  let reliefs: (() => void)[] = [];
  let drains: (() => void)[] = [];

  const isPressed = () =>
    waiting.length > limits.waitingMessages / 2 || waitingBytes > limits.waitingBytes / 2;

  function take(): Waiting[] {
    let readings = 0;
    let end = 0;
    while (end < waiting.length && readings < limits.readingsPerCommit) {
      const one = waiting[end] as Waiting;
      for (const part of one.parts) readings += part.kind === "readings" ? part.readings.length : 1;
      waitingBytes -= one.bytes;
      end += 1;
    }
    const group = end === waiting.length ? waiting : waiting.slice(0, end);
    waiting = end === waiting.length ? [] : waiting.slice(end);
    return group;
  }

  async function write(group: readonly Waiting[]): Promise<void> {
    const began = elapsed();
    let receipts: readonly Receipt[];
    try {
      receipts = await commit(group.map((one) => one.parts));
    } catch (error) {
      // One message that the store will not have must not hold up the others forever: find it by writing each alone.
      if (group.length > 1 && isOneMessagesFault(error)) {
        for (const one of group) await write([one]);
        return;
      }
      const [only] = group;
      if (only && group.length === 1 && isOneMessagesFault(error) && refused(error, only)) return;
      failedCommits += 1;
      trouble = error instanceof Error ? error.message : String(error);
      for (const one of group) one.settle(error, null);
      return;
    }
    lastCommitMs = elapsed() - began;
    trouble = null;
    for (let index = 0; index < group.length; index += 1)
      (group[index] as Waiting).settle(null, receipts[index] as Receipt);
  }

  async function run(): Promise<void> {
    while (waiting.length > 0) {
      // Every socket that is ready is read before the group is closed.
      await new Promise<void>((resolve) => setImmediate(resolve));
      const group = take();
      writing = group.length;
      await write(group);
      writing = 0;
      if (reliefs.length > 0 && !isPressed()) {
        for (const resolve of reliefs) resolve();
        reliefs = [];
      }
    }
    running = false;
    for (const resolve of drains) resolve();
    drains = [];
  }

  return {
    add(parts, bytes, settle, message) {
      if (waiting.length >= limits.waitingMessages || waitingBytes + bytes > limits.waitingBytes) {
        settle(new BusyError(waiting.length), null);
        return;
      }
      waiting.push({ parts, bytes, settle, message: message ?? null });
      waitingBytes += bytes;
      if (running) return;
      running = true;
      void run();
    },
    isPressed,
    relief: () => (isPressed() ? new Promise((resolve) => reliefs.push(resolve)) : Promise.resolve()),
    drained: () => (running ? new Promise((resolve) => drains.push(resolve)) : Promise.resolve()),
    counts: () => ({ waiting: waiting.length + writing, lastCommitMs, failedCommits, trouble }),
  };
}

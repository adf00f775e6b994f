import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { type AcceptBatch, StoreError } from "../port.ts";
import {
  type ColumnSpace,
  columnSpace,
  columnsOf,
  type ReadingColumns,
  sharedBytes,
} from "../reading-columns.ts";
import type { ColumnOutcome } from "./append.ts";

/** What the thread is started with, what it is sent and what it says. */
export interface ThreadData {
  readonly file: string;
  readonly maxBytes: number | null;
}
/** A batch whose readings lie in shared memory; `memory` where it is another one than last time. */
export interface ThreadBatch extends Pick<AcceptBatch, "now" | "rejected" | "unclaimed"> {
  readonly count: number;
  readonly marks: ReadingColumns["marks"];
  readonly memory: SharedArrayBuffer | null;
}
export type ThreadCall = ThreadBatch | "close";
export type ThreadAnswer =
  | { readonly outcome: ColumnOutcome }
  | { readonly code: StoreError["code"]; readonly message: string };

/** Commits batches, one at a time, outside this thread. */
export interface AppendThread {
  /** The caller waits for one batch before it gives the next. */
  append(batch: AcceptBatch): Promise<ColumnOutcome>;
  close(): Promise<void>;
}
/** Readings that fit into the memory at first; it grows with the largest batch. */
const CAPACITY = 8_192;

export type StartAppendThread = (data: ThreadData) => AppendThread;

/**
 * Commits in a thread of its own: waiting for the disk and writing rows take as long as decoding and acknowledging, and a slow disk must not
 * stop keepalives. A thread that died is started again by the next batch; the batch it was working on is rejected, so it is not acknowledged.
 */
export const startAppendThread: StartAppendThread = (workerData) => {
  const thread = join(fileURLToPath(import.meta.url), "..", "append-thread-start.mjs");
  let worker: Worker | null = null;
  let memory = sharedBytes(CAPACITY);
  let space: ColumnSpace = columnSpace(memory);
  let isNew = true;
  let waiting: { resolve(outcome: ColumnOutcome): void; reject(error: Error): void } | null = null;

  function start(): Worker {
    const started = new Worker(thread, { workerData, execArgv: [] });
    let died = "it ended";
    started.on("message", (answer: ThreadAnswer) => {
      const caller = waiting;
      waiting = null;
      if ("outcome" in answer) caller?.resolve(answer.outcome);
      else caller?.reject(new StoreError(answer.code, answer.message));
    });
    started.on("error", (error) => {
      died = error.message;
    });
    started.on("exit", () => {
      if (worker === started) worker = null;
      const caller = waiting;
      waiting = null;
      caller?.reject(
        new StoreError("unavailable", `The thread that writes ${workerData.file} has failed: ${died}.`),
      );
    });
    return started;
  }
  // At once, so that the first message does not wait for it.
  worker = start();

  return {
    append: ({ now, readings, rejected, unclaimed }) =>
      new Promise((resolve, reject) => {
        if (waiting !== null)
          throw new Error("a batch was given to the thread before the previous one was committed");
        if (worker === null || readings.length > space.at.length) {
          memory = sharedBytes(Math.max(CAPACITY, readings.length));
          space = columnSpace(memory);
          isNew = true;
        }
        worker ??= start();
        waiting = { resolve, reject };
        const { count, marks } = columnsOf(readings, space);
        worker.postMessage({
          now,
          count,
          marks,
          rejected,
          unclaimed,
          memory: isNew ? memory : null,
        } satisfies ThreadCall);
        isNew = false;
      }),
    async close() {
      const last = worker;
      if (last === null) return;
      const gone = new Promise((resolve) => last.once("exit", resolve));
      last.postMessage("close" satisfies ThreadCall);
      await gone;
    },
  };
};

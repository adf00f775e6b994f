/** The thread of `append-thread.ts`: one connection that does nothing but commit batches. Started by path, with the database file. */
import { parentPort, workerData } from "node:worker_threads";
import { type ColumnSpace, columnSpace } from "../reading-columns.ts";
import { batchAppender } from "./append-batch.ts";
import type { ThreadAnswer, ThreadCall, ThreadData } from "./append-thread.ts";
import { openConnection } from "./connection.ts";
import { sqliteStoreError } from "./errors.ts";

const { file, maxBytes } = workerData as ThreadData;
const port = parentPort;
if (port === null) throw new Error("append-thread-main.ts is started as a thread, by append-thread.ts");

const connection = openConnection({ file, readonly: false, mustExist: true, maxBytes, acknowledges: true });
// From here `beginWriting` does the waiting.
connection.pragma("busy_timeout = 0");
const append = batchAppender(connection);
let space: ColumnSpace | null = null;

port.on("message", async (call: ThreadCall) => {
  if (call === "close") {
    connection.close();
    port.close();
    return;
  }
  let answer: ThreadAnswer;
  try {
    const { now, count, marks, rejected, unclaimed, memory } = call;
    if (memory !== null) space = columnSpace(memory);
    if (space === null) throw new Error("the first batch came without its shared memory");
    answer = { outcome: await append({ now, readings: { ...space, count, marks }, rejected, unclaimed }) };
  } catch (error) {
    const { code, message } = sqliteStoreError(error, file);
    answer = { code, message };
  }
  port.postMessage(answer);
});

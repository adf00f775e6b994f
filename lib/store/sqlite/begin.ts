import { setTimeout as sleep } from "node:timers/promises";
import type BetterSqlite3 from "better-sqlite3";
import { BUSY_MS } from "./connection.ts";

// About how often a busy writer frees its lock for a moment; one attempt costs microseconds.
const RETRY_MS = 1;

/**
 * Takes the write lock, waiting for another process without holding up this one. SQLite's own busy handler would sleep in
 * the event loop: timers and sockets would stop, and a second store of the same thread could never finish its commit.
 */
export async function beginWriting(begin: BetterSqlite3.Statement): Promise<void> {
  const deadline = performance.now() + BUSY_MS;
  for (;;) {
    try {
      begin.run();
      return;
    } catch (error) {
      if (!isBusy(error) || performance.now() > deadline) throw error;
    }
    await sleep(RETRY_MS);
  }
}

const isBusy = (error: unknown): boolean =>
  error instanceof Error &&
  "code" in error &&
  typeof error.code === "string" &&
  error.code.startsWith("SQLITE_BUSY");

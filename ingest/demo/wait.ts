import { existsSync, readFileSync } from "node:fs";
import { setTimeout as pause } from "node:timers/promises";
import type { DemoConnection } from "./connection.ts";

const ASK_MS = 150;
const LONGEST_MS = 120_000;

async function next(signal: AbortSignal): Promise<void> {
  await pause(ASK_MS, undefined, { signal }).catch((error: unknown) => {
    if (!signal.aborted) throw error;
  });
}

/** "ok" or why the dashboard could not be built; at once "ok" where nobody builds beside us. */
export async function waitForBuild(signal: AbortSignal): Promise<string> {
  const file = process.env.HOMEWATER_BUILD_STAMP_FILE;
  if (!file) return "ok";
  while (!existsSync(file) && !signal.aborted) await next(signal);
  return signal.aborted ? "stopped" : readFileSync(file, "utf8").trim();
}

/** Until the dashboard answers. Rejects after two minutes. */
export async function waitForDashboard(connection: DemoConnection, signal: AbortSignal): Promise<void> {
  const started = performance.now();
  while (!signal.aborted) {
    const answer = await fetch(`${connection.httpUrl}/api/v1/health`).catch(() => null);
    if (answer?.ok) return;
    if (performance.now() - started > LONGEST_MS)
      throw new Error(
        `the dashboard does not answer at ${connection.httpUrl} (last: ${answer?.status ?? "no connection"})`,
      );
    await next(signal);
  }
}

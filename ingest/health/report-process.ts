import { stat, statfs } from "node:fs/promises";
import { hostname } from "node:os";
import type { Logger } from "pino";
import { databaseFile } from "#config/backup.ts";
import type { Settings } from "#config/env.ts";
import type { Instant } from "#core/time/instant.ts";
import { type ProcessReport, REPORT_EVERY } from "#core/upkeep/process-report.ts";
import type { Store } from "#store/port.ts";

async function sizeOf(file: string): Promise<number> {
  return await stat(file).then(
    (found) => found.size,
    () => 0,
  );
}

/** Free disk space and the size of the database: what every process reports of its surroundings. */
export async function surroundings(
  settings: Pick<Settings, "data" | "databaseUrl">,
): Promise<Pick<ProcessReport["report"], "diskFree" | "diskTotal" | "databaseBytes">> {
  const file = databaseFile(settings.databaseUrl);
  const disk = await statfs(settings.data).catch(() => null);
  return {
    diskFree: disk && disk.bavail * disk.bsize,
    diskTotal: disk && disk.blocks * disk.bsize,
    databaseBytes: file === null ? null : (await sizeOf(file)) + (await sizeOf(`${file}-wal`)),
  };
}

/** Writes a row about this process now and every half minute, so that health can be read without asking it. */
export function keepReport(options: {
  readonly name: "accepting" | "evaluating";
  readonly settings: Settings;
  readonly store: Store;
  readonly clock: () => Instant;
  readonly log: Logger;
  readonly more?: () => Partial<ProcessReport["report"]>;
}): { stop(): Promise<void> } {
  const { name, settings, store, clock, log, more = () => ({}) } = options;
  const started = clock();
  let writing = Promise.resolve();
  const write = () => {
    writing = writing
      .then(async () => {
        const report = { memory: process.memoryUsage.rss(), ...(await surroundings(settings)), ...more() };
        await store.reportProcess({ name, host: hostname(), pid: process.pid, started, at: clock(), report });
      })
      .catch((error: Error) => log.warn({ trouble: error.message }, "could not report"));
  };
  write();
  const timer = setInterval(write, REPORT_EVERY);
  return {
    async stop() {
      clearInterval(timer);
      await writing;
    },
  };
}

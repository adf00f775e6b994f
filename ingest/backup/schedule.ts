import { spawn } from "node:child_process";
import { join } from "node:path";
import type { Logger } from "pino";
import { type Instant, MINUTE } from "#core/time/instant.ts";
import type { Store } from "#store/port.ts";

const LOOK_EVERY = 15_000;
const COMMAND = join(import.meta.dirname, "../commands/backup.ts");

/**
 * Makes a backup whenever the newest good one is older than `minutes`, in a process of its own: copying and checking take seconds that
 * no acknowledgement should wait for. One that takes longer than `deadlineMinutes` is stopped and recorded as failed; the next attempt is one period later.
 */
export function keepBackups(options: {
  readonly store: Store;
  readonly clock: () => Instant;
  readonly log: Logger;
  readonly minutes: number;
  readonly deadlineMinutes: number;
  /** How often to check whether one is due; for tests. */
  readonly lookEvery?: number;
}): { stop(): Promise<void> } {
  const { store, clock, log, minutes, deadlineMinutes } = options;
  const started = clock();
  let running: { readonly done: Promise<void>; kill(): void } | null = null;

  async function isDue(): Promise<boolean> {
    const { last } = await store.readBackups();
    // The very first backup is not urgent: one period after the start is soon enough. A clock set back must not stop them.
    const since = last?.began ?? started;
    return clock() - since >= minutes * MINUTE || since > clock();
  }

  function start(): void {
    const began = clock();
    const child = spawn(process.execPath, ["--import", "tsx", COMMAND], {
      stdio: ["ignore", "pipe", "pipe"],
    });
    let said = "";
    for (const stream of [child.stdout, child.stderr])
      stream.on("data", (chunk: Buffer) => {
        said = `${said}${chunk.toString()}`.slice(-2_000);
      });
    let late = false;
    const deadline = setTimeout(() => {
      late = true;
      child.kill("SIGKILL");
    }, deadlineMinutes * MINUTE);
    const done = new Promise<void>((resolve) => {
      child.once("error", (error) => {
        said = error.message;
        resolve();
      });
      child.once("close", () => resolve());
    }).then(async () => {
      clearTimeout(deadline);
      running = null;
      if (late) {
        const trouble = `The backup was ended after ${deadlineMinutes} minutes: the disk is too slow or too busy. If that is expected, set HOMEWATER_BACKUP_DEADLINE_MINUTES higher.`;
        await store.recordBackup({
          file: "",
          bytes: 0,
          began,
          finished: clock(),
          trouble,
          readings: null,
          upTo: null,
        });
        log.error(trouble);
      } else if (child.exitCode === 0) log.info(said.trim());
      else log.error(`the backup failed: ${said.trim()}`);
    });
    running = {
      done: done.catch((error: Error) =>
        log.error(`a failed backup could not be recorded: ${error.message}`),
      ),
      kill: () => child.kill("SIGTERM"),
    };
  }

  let looking = Promise.resolve();
  const timer = setInterval(() => {
    looking = looking
      .then(async () => {
        if (running === null && (await isDue())) start();
      })
      .catch((error: Error) => log.warn(`could not check whether a backup is due: ${error.message}`));
  }, options.lookEvery ?? LOOK_EVERY);
  return {
    async stop() {
      clearInterval(timer);
      await looking;
      running?.kill();
      await running?.done;
    },
  };
}

/** Starts the processes of a running Homewater, says when they are ready, restarts one that failed, and stops them all. */
import { type ChildProcess, spawn } from "node:child_process";
import { createWriteStream, type WriteStream } from "node:fs";
import { createInterface } from "node:readline";

export interface Part {
  readonly name: string;
  readonly args: readonly string[];
  readonly env: Readonly<Record<string, string>>;
  /** Reports that it is ready with one JSON line on standard output; otherwise it counts as ready once started. */
  readonly saysReady: boolean;
}
export interface Supervisor {
  /** Resolves with the line it said when ready; rejects where it ends before, with the last lines of its log. */
  start(part: Part): Promise<Record<string, unknown>>;
  stop(): Promise<void>;
}

const GRACE_MS = 8_000;
const RESTART_MS = 1_000;
/** A part that cannot start at all (exit code 2) is not tried again: it said why. */
const CANNOT_START = 2;
const LAST_LINES = 12;

/**
 * `logFile`: where the parts' standard error goes, one after another. `onEnd` hears of every end that nobody asked for; a signal to
 * the whole group reaches the parts too, so `isAsked` tells whether we were told to stop ourselves.
 */
export function createSupervisor(
  logFile: string,
  isAsked: () => boolean,
  onEnd: (name: string, code: number | null) => void,
): Supervisor {
  const log = createWriteStream(logFile, { flags: "a" });
  const children = new Set<ChildProcess>();
  let stopping = false;

  function launch(part: Part, isFirst: boolean): Promise<Record<string, unknown>> {
    const child = spawn(process.execPath, part.args, {
      env: { ...process.env, ...part.env },
      stdio: ["ignore", "pipe", "pipe"],
    });
    children.add(child);
    const lines = keepLines(child, log);
    return new Promise((resolve, reject) => {
      if (!part.saysReady) child.once("spawn", () => resolve({}));
      else
        createInterface({ input: child.stdout as NodeJS.ReadableStream }).on("line", (line) => {
          if (line.startsWith('{"ready":true')) resolve(JSON.parse(line) as Record<string, unknown>);
        });
      if (!part.saysReady) child.stdout?.pipe(log, { end: false });
      child.once("error", reject);
      child.once("exit", (code) => {
        children.delete(child);
        if (stopping || isAsked()) return resolve({});
        onEnd(part.name, code);
        if (isFirst && part.saysReady)
          reject(new Error(`${part.name} ended before it was ready.\n${lines.join("\n")}`));
        if (code !== CANNOT_START) setTimeout(() => relaunch(part), RESTART_MS);
      });
    });
  }

  function relaunch(part: Part): void {
    if (stopping || isAsked()) return;
    launch(part, false).catch((error: unknown) => {
      log.write(`${part.name} could not be started again: ${String(error)}\n`);
      onEnd(part.name, null);
    });
  }

  return {
    start: (part) => launch(part, true),
    async stop() {
      stopping = true;
      await Promise.all([...children].map(end));
      await new Promise((resolve) => log.end(resolve));
    },
  };
}

function keepLines(child: ChildProcess, log: WriteStream): string[] {
  const lines: string[] = [];
  createInterface({ input: child.stderr as NodeJS.ReadableStream }).on("line", (line) => {
    log.write(`${line}\n`);
    lines.push(line);
    if (lines.length > LAST_LINES) lines.shift();
  });
  return lines;
}

function end(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve();
  return new Promise((resolve) => {
    const hard = setTimeout(() => child.kill("SIGKILL"), GRACE_MS);
    child.once("exit", () => {
      clearTimeout(hard);
      resolve();
    });
    child.kill("SIGTERM");
  });
}

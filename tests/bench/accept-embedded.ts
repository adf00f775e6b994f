/**
 * Starts a broker, the embedded one with a store or the same with none, and a publisher with QoS 1, each in a process of its own;
 * for the cases `accept` and `batch`.
 */
import { type ChildProcess, spawn } from "node:child_process";
import { createInterface } from "node:readline";

/** What a process of the benchmarks says, one line of JSON at a time: that it is ready, then what it measured. */
export function linesOf(child: ChildProcess): { next(): Promise<unknown> } {
  if (child.stdout === null) throw new Error("the process has no output");
  const lines = createInterface(child.stdout)[Symbol.asyncIterator]();
  return {
    async next() {
      const { done, value } = await lines.next();
      if (done) throw new Error(`${child.spawnargs.slice(3).join(" ")} ended without a word`);
      return JSON.parse(value);
    },
  };
}

const running = new Set<ChildProcess>();
// A run that is stopped half-way leaves no broker behind.
process.once("exit", () => {
  for (const child of running) child.kill("SIGKILL");
});

/** Remembers a process that a benchmark started, to end it with this one. */
export function endWithUs(child: ChildProcess): ChildProcess {
  running.add(child);
  child.once("exit", () => running.delete(child));
  return child;
}

/** As `npm start` starts the accepting process; the reference gets the same. */
const YOUNG_MEMORY = ["--max-semi-space-size=24"];

export const startScript = (script: string, ...argv: (string | number)[]): ChildProcess =>
  endWithUs(
    spawn(
      process.execPath,
      [...YOUNG_MEMORY, "--import", "tsx", new URL(script, import.meta.url).pathname, ...argv.map(String)],
      { stdio: ["ignore", "pipe", "inherit"] },
    ),
  );

/** Ends a process that was started here and waits until it is gone. */
export async function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const gone = new Promise((resolve) => child.once("exit", resolve));
  child.kill("SIGTERM");
  const forced = setTimeout(() => child.kill("SIGKILL"), 10_000);
  await gone;
  clearTimeout(forced);
}

export type PublisherKind = "client" | "pipelined";
export interface Published {
  readonly kind: PublisherKind;
  readonly messages: number;
  /** Readings a message carries. */
  readonly readings: number;
  /** Messages on their way unacknowledged, on each connection. */
  readonly inFlight: number;
  /** Gateways that publish at once; one where it is left out. */
  readonly connections?: number;
}

/** Messages acknowledged a second, once, by a broker and a store of their own. */
export async function messagesPerSecond(mode: "store" | "bare", published: Published): Promise<number> {
  const { kind, messages, readings, inFlight, connections = 1 } = published;
  const server = startScript("accept-server.ts", mode);
  let publisher: ChildProcess | null = null;
  try {
    const { port } = (await linesOf(server).next()) as { port: number };
    publisher = startScript("accept-publisher.ts", kind, port, messages, inFlight, 1, readings, connections);
    return ((await linesOf(publisher).next()) as { perSecond: number }).perSecond;
  } finally {
    if (publisher !== null) await ended(publisher);
    await ended(server);
  }
}

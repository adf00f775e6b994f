import { type ChildProcess, spawn } from "node:child_process";

export interface Launched {
  readonly name: string;
  readonly pid: number | undefined;
  /** The JSON line in which it said that it is ready. */
  readonly said: Readonly<Record<string, unknown>>;
  output(): string;
  errors(): string;
  readonly ended: Promise<{ readonly code: number | null; readonly signal: NodeJS.Signals | null }>;
  /** SIGKILL to the process and to everything it started; resolves when it is gone. Nothing in it can tidy up. */
  kill(): Promise<void>;
  /** SIGTERM, as an orderly stop sends it; resolves with its exit code. */
  stop(): Promise<number | null>;
}
export interface ProcessTree {
  /** Starts a TypeScript file of the project; where `saysReady`, resolves with its line `{"ready":true,...}` and rejects if it ends before. */
  launch(
    file: string,
    options: {
      readonly env: Readonly<Record<string, string>>;
      readonly args?: readonly string[];
      readonly saysReady: boolean;
    },
  ): Promise<Launched>;
  /** Kills whatever still runs: for the end of a test, passed or failed. */
  killAll(): Promise<void>;
}

const READY_WITHIN_MS = 60_000;

/** Real processes of a test, each the head of a process group of its own, so that a kill reaches what it started as well. */
export function createProcessTree(): ProcessTree {
  const running = new Set<Launched>();

  return {
    async launch(file, { env, args = [], saysReady }) {
      const child = spawn(process.execPath, ["--import", "tsx", file, ...args], {
        env: { ...environment(), NODE_ENV: "test", ...env },
        stdio: ["ignore", "pipe", "pipe"],
        detached: true,
      });
      const [output, errors] = [textOf(child.stdout), textOf(child.stderr)];
      const ended = new Promise<{ code: number | null; signal: NodeJS.Signals | null }>((resolve, reject) => {
        child.once("error", reject);
        child.once("close", (code, signal) => resolve({ code, signal }));
      });
      const send = (signal: NodeJS.Signals) => sendToGroup(child, signal);
      const said: Record<string, unknown> = {};
      const launched: Launched = {
        name: file,
        pid: child.pid,
        said,
        output,
        errors,
        ended,
        async kill() {
          send("SIGKILL");
          await ended;
        },
        async stop() {
          send("SIGTERM");
          return (await ended).code;
        },
      };
      running.add(launched);
      void ended.finally(() => running.delete(launched));
      if (saysReady) Object.assign(said, await ready(launched, child));
      return launched;
    },
    async killAll() {
      await Promise.all([...running].map((one) => one.kill()));
    },
  };
}

/** This machine's environment without settings of Homewater that somebody may have exported. */
function environment(): Record<string, string | undefined> {
  return Object.fromEntries(Object.entries(process.env).filter(([name]) => !name.startsWith("HOMEWATER_")));
}

function textOf(stream: NodeJS.ReadableStream | null): () => string {
  let text = "";
  stream?.on("data", (chunk) => {
    text += chunk;
  });
  return () => text;
}

function sendToGroup(child: ChildProcess, signal: NodeJS.Signals): void {
  if (child.pid === undefined || child.exitCode !== null || child.signalCode !== null) return;
  try {
    process.kill(-child.pid, signal);
  } catch (error) {
    // It ended in this very moment: what was wanted.
    if (!(error instanceof Error && "code" in error && error.code === "ESRCH")) throw error;
  }
}

async function ready(launched: Launched, child: ChildProcess): Promise<Record<string, unknown>> {
  const line = () => /^\{"ready":true.*\}$/m.exec(launched.output())?.[0];
  return await new Promise((resolve, reject) => {
    const deadline = setTimeout(() => fail("was not ready in time"), READY_WITHIN_MS);
    const fail = (why: string) => {
      clearTimeout(deadline);
      reject(new Error(`${launched.name} ${why}:\n${launched.errors().slice(-2_000)}`));
    };
    child.stdout?.on("data", () => {
      const found = line();
      if (found === undefined) return;
      clearTimeout(deadline);
      resolve(JSON.parse(found) as Record<string, unknown>);
    });
    launched.ended.then(
      ({ code, signal }) => fail(`ended before it was ready (code ${code}, signal ${signal})`),
      (error: Error) => fail(error.message),
    );
  });
}

/**
 * Messages accepted, committed (synchronous FULL) and acknowledged by the embedded broker, beside the same broker with no store, in turn
 * in the same run. Publisher, QoS 1, in a process of its own. Target: 0.9 of the broker with no store.
 */
import { type ChildProcess, spawn } from "node:child_process";
import { createInterface } from "node:readline";

const IN_FLIGHT = 500;

async function firstLine(child: ChildProcess): Promise<unknown> {
  if (child.stdout === null) throw new Error("the process has no output");
  for await (const line of createInterface(child.stdout)) return JSON.parse(line);
  throw new Error("the process ended without a word");
}
const run = (script: string, ...argv: (string | number)[]) =>
  spawn(
    process.execPath,
    ["--import", "tsx", new URL(script, import.meta.url).pathname, ...argv.map(String)],
    {
      stdio: ["ignore", "pipe", "inherit"],
    },
  );

export type PublisherKind = "client" | "pipelined";

async function measure(mode: "store" | "bare", kind: PublisherKind, messages: number): Promise<number> {
  const server = run("accept-server.ts", mode);
  try {
    const { port } = (await firstLine(server)) as { port: number };
    const publisher = run("accept-publisher.ts", kind, port, messages, IN_FLIGHT, 1);
    return ((await firstLine(publisher)) as { perSecond: number }).perSecond;
  } finally {
    server.kill("SIGTERM");
  }
}

export interface AcceptBench {
  /** Messages a second, one a round. */
  readonly store: readonly number[];
  readonly bare: readonly number[];
  /** Medians compared. */
  readonly ratio: number;
}
export async function benchAcceptEmbedded(
  kind: PublisherKind,
  messages = 60_000,
  rounds = 5,
): Promise<AcceptBench> {
  const [store, bare]: [number[], number[]] = [[], []];
  for (let round = 0; round < rounds; round += 1) {
    bare.push(await measure("bare", kind, messages));
    store.push(await measure("store", kind, messages));
  }
  const median = (rates: number[]) =>
    [...rates].sort((a, b) => a - b)[Math.floor(rates.length / 2)] as number;
  return { store, bare, ratio: median(store) / median(bare) };
}

if (process.argv[1] === new URL(import.meta.url).pathname) {
  const rates = (values: readonly number[]) => values.map((value) => Math.round(value)).join(", ");
  for (const kind of ["client", "pipelined"] as const) {
    const { store, bare, ratio } = await benchAcceptEmbedded(
      kind,
      Number(process.argv[2] ?? 60_000),
      Number(process.argv[3] ?? 5),
    );
    process.stdout.write(
      `${kind}: store ${rates(store)} messages/s; no store ${rates(bare)} messages/s; ratio of medians ${ratio.toFixed(2)}\n`,
    );
  }
}

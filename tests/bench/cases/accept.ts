/**
 * QoS 1 messages accepted, committed (synchronous FULL) and acknowledged a second. Embedded: beside the same broker with no store.
 * External broker: beside a bare client library that only counts, and beside one commit a message.
 */
import type { ChildProcess } from "node:child_process";
import { mosquittoPath, skipReason } from "#tests/helpers/system-parts.ts";
import { ended, linesOf, messagesPerSecond, startScript } from "../accept-embedded.ts";
import { type BenchOptions, type BenchRow, median, scaled } from "../bench-row.ts";
import { startMosquitto } from "../mosquitto.ts";

export const name = "accept";

const IN_FLIGHT = 500;

async function embedded({ scale, say }: BenchOptions): Promise<BenchRow[]> {
  const rows: BenchRow[] = [];
  const publishers = [
    { what: "embedded, 8 gateways, ready-made packets", kind: "pipelined", connections: 8, rounds: 5 },
    { what: "embedded, 1 gateway, ready-made packets", kind: "pipelined", connections: 1, rounds: 5 },
    { what: "embedded, MQTT.js publishes", kind: "client", connections: 1, rounds: 3 },
  ] as const;
  for (const { what, kind, connections, rounds } of publishers) {
    const messages = scaled(kind === "client" ? 40_000 : 120_000, scale, 500);
    const published = { kind, messages, readings: 1, inFlight: IN_FLIGHT, connections };
    const [store, bare]: [number[], number[]] = [[], []];
    for (let round = 0; round < scaled(rounds, scale); round += 1) {
      bare.push(await messagesPerSecond("bare", published));
      store.push(await messagesPerSecond("store", published));
    }
    say(`  ${what}: ${store.map(Math.round).join(" ")} beside ${bare.map(Math.round).join(" ")}`);
    rows.push({
      what,
      unit: "messages/s",
      ours: median(store),
      reference: median(bare),
      referenceIs: "the same broker with no store",
      target: { of: "ratio", atLeast: 0.9 },
    });
  }
  return rows;
}

type Mode = "store" | "count" | "each";

async function external(program: string, mode: Mode, messages: number): Promise<number> {
  const broker = await startMosquitto(program);
  const children: ChildProcess[] = [];
  try {
    const subscriber = startScript(
      "external-subscriber.ts",
      mode,
      `mqtt://127.0.0.1:${broker.port}`,
      messages,
    );
    children.push(subscriber);
    const lines = linesOf(subscriber);
    await lines.next();
    const publisher = startScript("accept-publisher.ts", "pipelined", broker.port, messages, IN_FLIGHT, 1);
    children.unshift(publisher);
    return ((await lines.next()) as { perSecond: number }).perSecond;
  } finally {
    for (const child of children) await ended(child);
    await broker.stop();
  }
}

async function besideCounting({ scale, say }: BenchOptions): Promise<BenchRow[]> {
  const what = "external broker, ready-made packets";
  const counting = {
    referenceIs: "a bare MQTT.js subscriber",
    target: { of: "ratio", atLeast: 0.7 },
  } as const;
  const program = mosquittoPath();
  if (program === null)
    return [
      { what, unit: "messages/s", ours: null, reference: null, ...counting, note: skipReason("mosquitto") },
    ];
  const rates: Record<Mode, number[]> = { store: [], count: [], each: [] };
  for (let round = 0; round < scaled(3, scale); round += 1) {
    rates.count.push(await external(program, "count", scaled(30_000, scale, 500)));
    rates.store.push(await external(program, "store", scaled(30_000, scale, 500)));
    rates.each.push(await external(program, "each", scaled(1_500, scale, 100)));
  }
  say(`  external: ${rates.store.map(Math.round).join(" ")} beside ${rates.count.map(Math.round).join(" ")}`);
  const ours = median(rates.store);
  return [
    { what, unit: "messages/s", ours, reference: median(rates.count), ...counting },
    {
      what: "the same",
      unit: "messages/s",
      ours,
      reference: median(rates.each),
      referenceIs: "one commit a message",
      target: { of: "ratio", atLeast: 4 },
    },
  ];
}

export async function run(options: BenchOptions): Promise<BenchRow[]> {
  return [...(await embedded(options)), ...(await besideCounting(options))];
}

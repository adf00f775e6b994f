/**
 * Writing while a year is judged again: bench tests of people and messages of gateways wait for the evaluator's commits. Beside the
 * same writes with an evaluator that has nothing to do. Real processes; one SQLite file.
 */
import { randomUUID } from "node:crypto";
import BetterSqlite3 from "better-sqlite3";
import { DAY } from "#core/time/instant.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import type { Store } from "#store/port.ts";
import { startAppendThread } from "#store/sqlite/append-thread.ts";
import { temporaryStore } from "#tests/helpers/open-store.ts";
import { createProcessTree } from "#tests/helpers/process-tree.ts";
import { type BenchOptions, type BenchRow, percentile, scaled } from "../bench-row.ts";
import { type BenchSite, CADENCE, setUpBenchSite, valueAt } from "../invented-site.ts";

export const name = "year";

const YEAR = 365 * DAY;
/** A bench test now and then, messages all the time. */
const BENCH_EVERY_MS = 40;
const MESSAGE_EVERY_MS = 10;
const LONGEST_MS = 120_000;

/** A year of readings of every stream, written by a statement each: what is measured comes later. */
function fill(file: string, site: BenchSite, from: number, to: number): number {
  const connection = new BetterSqlite3(file);
  connection.pragma("synchronous = OFF");
  const insert = connection.prepare(
    "insert into reading (stream, at, value, delay, source, sequence) values (?, ?, ?, 1000, ?, null)",
  );
  let rows = 0;
  for (const [n, { id }] of site.streams.entries())
    connection.transaction(() => {
      for (let at = from; at < to; at += CADENCE) {
        insert.run(id, at, valueAt(n, at), site.source);
        rows += 1;
      }
    })();
  connection.close();
  return rows;
}

interface Waited {
  readonly bench: readonly number[];
  readonly messages: readonly number[];
  readonly ms: number;
}

/** Writes until `isOver`, and says how long each write took, from the call to the answer after its commit. */
async function writing(
  store: Store,
  topic: string,
  stream: number,
  isOver: (ms: number) => Promise<boolean>,
): Promise<Waited> {
  const acceptor = createAcceptor({ store, clock: Date.now });
  const bench: number[] = [];
  const messages: number[] = [];
  const pending = new Set<Promise<void>>();
  const measured = (into: number[], write: () => Promise<unknown>) => {
    const began = performance.now();
    const done = write().then(() => {
      into.push(performance.now() - began);
      pending.delete(done);
    });
    pending.add(done);
  };
  let sent = 0;
  const message = () =>
    acceptor.accept({
      topic,
      payload: Buffer.from(`{"at":${Date.now()},"value":${15 + (sent++ % 10) / 100}}`),
      client: "bench-gateway",
      dup: false,
      retain: false,
      qos: 1,
    });
  const test = () => {
    const now = Date.now();
    return store.recordBench(
      {
        id: randomUUID(),
        clientId: randomUUID(),
        system: "hall-1",
        point: "display",
        sampledAt: now,
        enteredAt: now,
        analyst: "bench",
        note: null,
        results: [
          {
            id: randomUUID(),
            stream,
            quantity: "total_ammonia",
            typed: "0.02",
            qualifier: "=",
            unitTyped: "mg/L",
            value: 0.02,
            method: null,
            replicate: 1,
            supersedes: null,
            reason: null,
            answer: null,
            asked: null,
          },
        ],
      },
      now,
      { at: now, actor: "bench", actorId: "bench", verb: "record-bench", subject: "bench-test", record: {} },
    );
  };
  const began = performance.now();
  const timers = [
    setInterval(() => measured(messages, message), MESSAGE_EVERY_MS),
    setInterval(() => measured(bench, test), BENCH_EVERY_MS),
  ];
  while (!(await isOver(performance.now() - began))) await new Promise((resolve) => setTimeout(resolve, 250));
  for (const timer of timers) clearInterval(timer);
  await Promise.all(pending);
  return { bench, messages, ms: performance.now() - began };
}

export async function run({ scale, say }: BenchOptions): Promise<BenchRow[]> {
  const span = scaled(YEAR, scale, 10 * DAY);
  const end = Date.now() - (Date.now() % CADENCE);
  const opened = await temporaryStore({ appendThread: startAppendThread });
  const tree = createProcessTree();
  try {
    const { store, file } = opened;
    const site = await setUpBenchSite(store, 1, end - YEAR - DAY);
    const stream = (await store.ensureStream("hall-1/display", "total_ammonia", "bench")).id;
    const rows = fill(file, site, end - span, end);
    say(`  ${rows} readings over ${Math.round(span / DAY)} days`);
    await tree.launch("ingest/evaluate/main.ts", {
      env: { HOMEWATER_DATABASE_URL: `file:${file}` },
      saysReady: true,
    });
    const topic = "homewater/bench-house/hall-1/display/temperature";
    const quiet = await writing(store, topic, stream, async (ms) => ms > scaled(10_000, scale, 2_000));
    await store.writeSetUp({}, [{ system: "hall-1", from: end - span }], Date.now());
    let wasRejudging = false;
    const busy = await writing(store, topic, stream, async (ms) => {
      const { rejudging } = await store.status();
      wasRejudging ||= rejudging.length > 0;
      return ms > LONGEST_MS || (wasRejudging && rejudging.length === 0);
    });
    if (!wasRejudging) throw new Error("nothing was judged again");
    const took = `${Math.round(busy.ms / 1_000)} s of judging ${rows} readings again; ${busy.messages.length} messages and ${busy.bench.length} bench tests meanwhile`;
    say(`  ${took}`);
    const row = (
      what: string,
      ours: readonly number[],
      reference: readonly number[],
      target: BenchRow["target"],
    ): BenchRow => ({
      what,
      unit: "ms",
      ours: percentile(ours, 0.99),
      reference: percentile(reference, 0.99),
      referenceIs: "the same with nothing to judge again",
      target,
      note: took,
    });
    return [
      row("a bench test stored while a year is judged again, p99", busy.bench, quiet.bench, {
        of: "ours",
        atMost: 300,
      }),
      row("a message stored meanwhile, p99", busy.messages, quiet.messages, null),
    ];
  } finally {
    await tree.killAll();
    await opened.dispose();
  }
}

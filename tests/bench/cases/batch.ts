/** Readings a second in payloads of 500, through the embedded broker and through the accepting service alone, beside raw inserts. */
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { startAppendThread } from "#store/sqlite/append-thread.ts";
import { openConnection } from "#store/sqlite/connection.ts";
import { temporaryStore } from "#tests/helpers/open-store.ts";
import { setUpKelpGallery, topicOf } from "#tests/ingest/accept-parts.ts";
import { messagesPerSecond } from "../accept-embedded.ts";
import { type BenchOptions, type BenchRow, median, scaled, timed } from "../bench-row.ts";

export const name = "batch";

const PAYLOAD = 500;
/** As many readings as one commit of ours holds at most. */
const ROWS_A_COMMIT = 5_000;
const QUANTITIES = ["temperature", "ph", "orp", "dissolved_oxygen", "turbidity", "level"];
const T0 = Date.parse("2026-03-01T00:00:00Z");

const valueAt = (n: number) => (1_200 + (n % 97)) / 100;
const atOf = (n: number) => T0 + n * 100;

/** Prepared inserts in transactions on an empty store of the same schema, opened with the same durability. */
async function raw(payloads: number): Promise<number> {
  const { store, file, dispose } = await temporaryStore();
  await store.close();
  const connection = openConnection({
    file,
    readonly: false,
    mustExist: true,
    maxBytes: null,
    acknowledges: true,
  });
  try {
    const insert = connection.prepare(
      "insert into reading (stream, at, value, delay, source, sequence) values (?, ?, ?, ?, ?, null)",
    );
    const write = connection.transaction((from: number, to: number) => {
      for (let n = from; n < to; n += 1)
        insert.run((Math.floor(n / PAYLOAD) % QUANTITIES.length) + 1, atOf(n), valueAt(n), 1_000, 1);
    });
    const total = payloads * PAYLOAD;
    const ms = await timed(() => {
      for (let n = 0; n < total; n += ROWS_A_COMMIT) write.immediate(n, Math.min(total, n + ROWS_A_COMMIT));
    });
    return (total / ms) * 1_000;
  } finally {
    connection.close();
    await dispose();
  }
}

/** The accepting service as an edge calls it, with 40 messages on their way. */
async function service(payloads: number): Promise<number> {
  const { store, dispose } = await temporaryStore({ appendThread: startAppendThread });
  try {
    await setUpKelpGallery(store, T0);
    const clock = () => atOf(payloads * PAYLOAD) + 1_000;
    const acceptor = createAcceptor({ store, clock });
    const messages = Array.from({ length: payloads }, (_, message) => ({
      topic: topicOf(QUANTITIES[message % QUANTITIES.length] as string),
      payload: Buffer.from(
        JSON.stringify(
          Array.from({ length: PAYLOAD }, (_, i) => ({
            at: atOf(message * PAYLOAD + i),
            value: valueAt(message * PAYLOAD + i),
          })),
        ),
      ),
      client: "bench",
      dup: false,
      retain: false,
      qos: 1 as const,
    }));
    const first = await acceptor.accept({ ...(messages[0] as (typeof messages)[0]) });
    if (first.stored !== PAYLOAD) throw new Error(`not stored: ${first.reason}`);
    let next = 1;
    const work = async () => {
      for (let message = messages[next++]; message; message = messages[next++])
        await acceptor.accept(message);
    };
    const ms = await timed(() => Promise.all(Array.from({ length: 40 }, work)));
    const { stored } = acceptor.counts();
    if (stored !== payloads * PAYLOAD)
      throw new Error(`${stored} of ${payloads * PAYLOAD} readings were stored`);
    return ((stored - PAYLOAD) / ms) * 1_000;
  } finally {
    await dispose();
  }
}

export async function run({ scale, say }: BenchOptions): Promise<BenchRow[]> {
  const payloads = scaled(400, scale, 20);
  const rates = { raw: [] as number[], service: [] as number[], broker: [] as number[] };
  for (let round = 0; round < scaled(3, scale); round += 1) {
    rates.raw.push(await raw(payloads));
    rates.service.push(await service(payloads));
    const published = { kind: "pipelined", messages: payloads, readings: PAYLOAD, inFlight: 40 } as const;
    rates.broker.push((await messagesPerSecond("store", published)) * PAYLOAD);
  }
  say(`  raw ${rates.raw.map(Math.round).join(" ")}; broker ${rates.broker.map(Math.round).join(" ")}`);
  const reference = {
    unit: "readings/s",
    reference: median(rates.raw),
    referenceIs: `prepared inserts, ${ROWS_A_COMMIT} a commit`,
    target: { of: "ratio", atLeast: 0.7 },
  } as const;
  return [
    { what: `payloads of ${PAYLOAD}, accepting service`, ours: median(rates.service), ...reference },
    { what: `payloads of ${PAYLOAD}, embedded broker`, ours: median(rates.broker), ...reference },
  ];
}

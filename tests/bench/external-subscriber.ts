/**
 * A subscriber to an external broker in a process of its own: `external-subscriber.ts store|count|each URL MESSAGES`. Says
 * `{"ready":true}` once subscribed, then `{"perSecond":...}` after that many messages were acknowledged (a fifth more are taken first).
 * `store` is ours; `count` is the bare client library, which only counts; `each` is it with one commit a message before each PUBACK.
 */
import { randomUUID } from "node:crypto";
import mqtt from "mqtt";
import { pino } from "pino";
import { startSubscriber } from "#ingest/accept/subscriber.ts";
import { type Acceptor, createAcceptor } from "#services/gateway/accept-message.ts";
import { startAppendThread } from "#store/sqlite/append-thread.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { setUpKelpGallery } from "../ingest/accept-parts.ts";

const [mode, url, messages] = [process.argv[2], process.argv[3] ?? "", Number(process.argv[4])];
const WARM_UP = Math.round(messages / 5);
const RECEIVE_MAXIMUM = 2_000;
const say = (word: object) => process.stdout.write(`${JSON.stringify(word)}\n`);

let taken = 0;
let began = 0;
function count(): void {
  taken += 1;
  if (taken === WARM_UP) began = performance.now();
  if (taken === WARM_UP + messages) say({ perSecond: messages / ((performance.now() - began) / 1_000) });
}

async function acceptorOverStore(): Promise<{ acceptor: Acceptor; dispose(): Promise<void> }> {
  const opened = await temporaryStore({ appendThread: startAppendThread });
  await setUpKelpGallery(opened.store, Date.now());
  const system = (await opened.store.readSetUp()).systems[0]?.id ?? "";
  const points = Array.from({ length: 50 }, (_, n) => ({
    id: randomUUID(),
    system,
    code: `display-${n}`,
    role: "exhibit" as const,
    roleGuessed: false,
    twinOf: null,
  }));
  await opened.store.writeSetUp({ points }, [], Date.now());
  return { acceptor: createAcceptor({ store: opened.store, clock: Date.now }), dispose: opened.dispose };
}

/** The bare client library, subscribed as ours is: a session that is kept, as many messages on their way. */
async function bareClient(clientId: string) {
  return mqtt.connectAsync(url, {
    clientId,
    clean: false,
    protocolVersion: 5,
    reconnectPeriod: 0,
    properties: { sessionExpiryInterval: 60, receiveMaximum: RECEIVE_MAXIMUM },
  });
}
const READINGS = "homewater/+/+/+/+";

async function run(): Promise<() => Promise<void>> {
  if (mode === "count") {
    const client = await bareClient("bench-count");
    client.on("message", count);
    await client.subscribeAsync(READINGS, { qos: 1 });
    return () => client.endAsync(true);
  }
  const { acceptor, dispose } = await acceptorOverStore();
  if (mode === "each") {
    const client = await bareClient("bench-each");
    client.handleMessage = ({ topic, payload, dup, retain, qos }, done) => {
      const bytes = typeof payload === "string" ? Buffer.from(payload) : payload;
      acceptor.accept({ topic, payload: bytes, client: "bench", dup, retain, qos }).then(
        () => {
          count();
          done();
        },
        (error: Error) => done(error),
      );
    };
    await client.subscribeAsync(READINGS, { qos: 1 });
    return async () => {
      await client.endAsync(true);
      await dispose();
    };
  }
  const counting: Acceptor = {
    ...acceptor,
    acceptThen: (message, settle) =>
      acceptor.acceptThen(message, (error, receipt) => {
        if (receipt?.stored !== 1)
          throw new Error(`${message.topic}: ${receipt?.outcome}, ${receipt?.reason ?? error}`);
        count();
        settle(error, receipt);
      }),
  };
  const log = pino({ level: "error" }, pino.destination(2));
  const subscriber = startSubscriber({ acceptor: counting, log, url, clientId: "bench-store" });
  await subscriber.ready;
  return async () => {
    await subscriber.close();
    await dispose();
  };
}

const stop = await run();
say({ ready: true });
process.on("SIGTERM", () => {
  void stop().finally(() => process.exit(0));
});

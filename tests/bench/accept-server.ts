/** The embedded broker with a store, or the same broker with none: `accept-server.ts store|bare`; prints its port. */
import { randomUUID } from "node:crypto";
import { type AddressInfo, createServer } from "node:net";
import { Aedes } from "aedes";
import { pino } from "pino";
import { startEmbeddedBroker } from "#ingest/accept/embedded-broker.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { startAppendThread } from "#store/sqlite/append-thread.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { setUpKelpGallery } from "../ingest/accept-parts.ts";

const say = (port: number) => process.stdout.write(`${JSON.stringify({ port })}\n`);

if (process.argv[2] === "bare") {
  const broker = await Aedes.createBroker({ connectTimeout: 10_000, queueLimit: 1_000 });
  const server = createServer((socket) => {
    socket.setNoDelay(true);
    broker.handle(socket);
  });
  server.listen(0, "127.0.0.1", () => say((server.address() as AddressInfo).port));
  process.on("SIGTERM", () => process.exit(0));
} else {
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
  const acceptor = createAcceptor({ store: opened.store, clock: Date.now });
  const broker = await startEmbeddedBroker({
    acceptor,
    log: pino({ level: "warn" }, pino.destination(2)),
    host: "127.0.0.1",
    port: 0,
    publisher: { user: "gateway", password: "kelp-forest-7" },
  });
  say(broker.port);
  process.on("SIGTERM", () => {
    const { stored, rejected, duplicates, conflicts } = acceptor.counts();
    process.stdout.write(`${JSON.stringify({ stored, rejected, duplicates, conflicts })}\n`);
    void opened.dispose().then(() => process.exit(0));
  });
}

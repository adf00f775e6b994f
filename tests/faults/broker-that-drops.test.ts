/**
 * A broker with its stock settings acknowledges what it then drops: its queue for a subscriber that is away holds 1,000 messages
 * (mosquitto.conf(5), max_queued_messages: "messages ... silently dropped"; default 1000). What is missing shows by number and is refilled.
 */
import mqtt from "mqtt";
import { expect, it } from "vitest";
import { startSubscriber } from "#ingest/accept/subscriber.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { readArrivals } from "#services/gateway/read-arrivals.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { startExternalBroker } from "../helpers/external-broker.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { describeWith } from "../helpers/system-parts.ts";
import { keptLog, setUpKelpGallery, topicOf, until } from "../ingest/accept-parts.ts";

const SENT = 3_000;

describeWith("mosquitto", "an external broker that drops what it has acknowledged", (program) => {
  it("is found out: the missing numbers are named, and gone when the gateway has sent them again", async () => {
    const broker = await startExternalBroker(program, { roomy: false });
    const opened = await temporaryStore();
    const { store } = opened;
    await setUpKelpGallery(store, Date.now());
    const acceptor = createAcceptor({ store, clock: Date.now });
    const subscribe = () =>
      startSubscriber({
        acceptor,
        log: keptLog().log,
        url: broker.url,
        clientId: "homewater",
        reconnectMs: 100,
        protocolVersion: 5,
      });
    const start = Date.now() - SENT * 1_000;
    const message = (n: number) => JSON.stringify({ at: start + n * 1_000, value: n / 100, sequence: n });
    const sequence = async () => {
      const setUp = createSetUpReader(store, Date.now);
      return (await readArrivals({ store, clock: Date.now, setUp }, {})).sources[0]?.sequence ?? null;
    };
    const publisher = await mqtt.connectAsync(broker.url);
    const publish = (n: number) => publisher.publishAsync(topicOf("temperature"), message(n), { qos: 1 });
    const stored = async () => (await store.status()).counts.readings;
    let subscriber = subscribe();
    try {
      await subscriber.ready;
      await publish(0);
      await until(async () => (await stored()) === 1, "the first is stored");
      await subscriber.close();
      // Every one of these is acknowledged to the gateway by its broker.
      await Promise.all(Array.from({ length: SENT - 2 }, (_, n) => publish(n + 1)));
      subscriber = subscribe();
      await subscriber.ready;
      await publish(SENT - 1);
      await until(
        async () => (await sequence())?.numbered === (await stored()) && (await stored()) > 2,
        "what was kept is in",
      );
      await until(async () => {
        const before = await stored();
        await new Promise((resolve) => setTimeout(resolve, 300));
        return (await stored()) === before;
      }, "nothing more comes");
      const found = await sequence();
      const lost = SENT - (await stored());
      expect(lost).toBeGreaterThan(500);
      expect(found?.missing).toBe(lost);
      process.stdout.write(
        `broker with stock settings: ${SENT} acknowledged to the gateway, ${lost} lost, ${found?.missing} named\n`,
      );
      for (const gap of found?.gaps ?? [])
        for (let n = gap.after + 1; n < gap.before; n += 500)
          await Promise.all(
            Array.from({ length: Math.min(500, gap.before - n) }, (_, more) => publish(n + more)),
          );
      await until(async () => (await stored()) === SENT, "the gaps are filled");
      expect(await sequence()).toMatchObject({ missing: 0, gaps: [], numbered: SENT });
    } finally {
      await subscriber.close();
      await publisher.endAsync(true);
      await broker.close();
      await opened.dispose();
    }
  });
});

/** An external broker is restarted, once and again, and keeps our session: we are back by ourselves, nothing is lost and nothing doubled. */
import mqtt from "mqtt";
import { expect, it } from "vitest";
import { startSubscriber } from "#ingest/accept/subscriber.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { startExternalBroker } from "../helpers/external-broker.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { describeWith } from "../helpers/system-parts.ts";
import { keptLog, readingsAt, setUpKelpGallery, topicOf, until } from "../ingest/accept-parts.ts";

const PART = 400;

describeWith("mosquitto", "an external broker that is restarted and keeps its sessions", (program) => {
  it("finds us back within 30 s; each reading is stored once, and the log says when it was away", async () => {
    const broker = await startExternalBroker(program, { persistent: true });
    const { store, dispose } = await temporaryStore();
    await setUpKelpGallery(store, Date.now());
    const { lines, log } = keptLog();
    const subscriber = startSubscriber({
      acceptor: createAcceptor({ store, clock: Date.now }),
      log,
      url: broker.url,
      clientId: "homewater",
      reconnectMs: 200,
    });
    const publisher = await mqtt.connectAsync(broker.url, {
      clientId: "gateway",
      clean: false,
      reconnectPeriod: 200,
    });
    const start = Date.now() - 3_600_000;
    let acknowledged = 0;
    const publish = (part: number) => {
      for (let n = part * PART; n < (part + 1) * PART; n += 1)
        publisher.publish(
          topicOf("orp"),
          JSON.stringify({ at: start + n * 1_000, value: n }),
          { qos: 1 },
          (error) => {
            if (!error) acknowledged += 1;
          },
        );
    };
    try {
      await subscriber.ready;
      publish(0);
      await until(() => acknowledged >= PART / 4, "some are on their way");
      await broker.restart();
      await until(() => subscriber.counts().isConnected && publisher.connected, "both are back", 30_000);
      publish(1);
      await until(() => acknowledged >= PART + PART / 4, "more are on their way", 30_000);
      await broker.restart();
      await until(
        () => subscriber.counts().isConnected && publisher.connected,
        "both are back again",
        30_000,
      );
      publish(2);
      await until(() => acknowledged === 3 * PART, "all are acknowledged", 30_000);
      await until(async () => (await readingsAt(store, "orp")).length === 3 * PART, "all are stored", 30_000);
      expect((await readingsAt(store, "orp")).map((reading) => reading.value)).toEqual(
        Array.from({ length: 3 * PART }, (_, n) => n),
      );
      const { counts } = await store.status();
      expect([counts.readings, counts.conflicts]).toEqual([3 * PART, 0]);
      expect(subscriber.counts()).toMatchObject({ connections: 3, sessionsLost: 0 });
      expect(lines.filter((line) => line.includes("cannot be reached")).length).toBeGreaterThanOrEqual(2);
    } finally {
      await subscriber.close();
      await publisher.endAsync(true);
      await broker.close();
      await dispose();
    }
  }, 120_000);
});

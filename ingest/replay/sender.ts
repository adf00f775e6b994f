import mqtt, { type MqttClient } from "mqtt";
import { withoutPassword } from "#config/env.ts";
import { ReplayError } from "./replay-error.ts";

export interface Sender {
  /** Resolves when there is room for another message, not when it is acknowledged. Rejects where the broker is gone for good. */
  send(topic: string, payload: string): Promise<void>;
  /** Resolves when everything sent is acknowledged. */
  finish(): Promise<void>;
  unacknowledged(): number;
  reconnections(): number;
  close(): Promise<void>;
}

/** Messages on their way at most. */
const IN_FLIGHT = 500;
const FIRST_CONNECTION_MS = 10_000;
/** A broker that is away longer than this is not waited for. */
const AWAY_MS = 120_000;

/**
 * Connects and sends with QoS 1. After a lost connection the client sends what was not acknowledged again, under the same packet
 * identifier [MQTT-4.4.0-1]. Rejects with ReplayError where the broker cannot be reached or refuses the user.
 */
export async function openSender(url: string, user: string | null, password: string | null): Promise<Sender> {
  const client = await connect(url, user, password);
  let unacknowledged = 0;
  let reconnections = 0;
  let trouble: Error | null = null;
  let awaySince: number | null = null;
  // Not the client's own `connected`: while it sends again after a reconnect it says so too, and should the connection end in that
  // time it drops what it was given meanwhile.
  let isOpen = true;
  let wakes: (() => void)[] = [];
  const wake = () => {
    const waiting = wakes;
    wakes = [];
    for (const one of waiting) one();
  };
  client.on("connect", () => {
    reconnections += 1;
    awaySince = null;
    isOpen = true;
    wake();
  });
  client.on("close", () => {
    awaySince ??= performance.now();
    isOpen = false;
  });
  client.on("error", () => {
    // Said by the deadline below, or over with the next connection.
  });
  const watch = setInterval(() => {
    if (awaySince === null || performance.now() - awaySince < AWAY_MS) return;
    trouble = new ReplayError(
      `The broker at ${withoutPassword(url)} has not answered for ${AWAY_MS / 1000} s: ${unacknowledged} messages are not acknowledged.`,
    );
    wake();
  }, 500);

  const until = async (isSo: () => boolean) => {
    while (!isSo()) {
      if (trouble !== null) throw trouble;
      await new Promise<void>((resolve) => wakes.push(resolve));
    }
  };

  return {
    async send(topic, payload) {
      if (unacknowledged >= IN_FLIGHT || !isOpen) await until(() => unacknowledged < IN_FLIGHT && isOpen);
      unacknowledged += 1;
      client.publish(topic, payload, { qos: 1 }, (error) => {
        if (error)
          trouble ??= new ReplayError(`A message on ${topic} was not accepted: ${error.message}.`, {
            cause: error,
          });
        else unacknowledged -= 1;
        wake();
      });
    },
    finish: () => until(() => unacknowledged === 0),
    unacknowledged: () => unacknowledged,
    reconnections: () => reconnections,
    async close() {
      clearInterval(watch);
      await client.endAsync(unacknowledged > 0);
    },
  };
}

async function connect(url: string, user: string | null, password: string | null): Promise<MqttClient> {
  const client = mqtt.connect(url, {
    protocolVersion: 4,
    clean: false,
    clientId: `replay-${process.pid}`,
    reconnectPeriod: 500,
    keepalive: 60,
    connectTimeout: FIRST_CONNECTION_MS,
    ...(user === null ? {} : { username: user }),
    ...(password === null ? {} : { password }),
  });
  return await new Promise((resolve, reject) => {
    const fail = (why: string) => {
      clearTimeout(deadline);
      client.end(true);
      reject(new ReplayError(`The broker at ${withoutPassword(url)} ${why}.`));
    };
    let last = "it does not answer";
    const deadline = setTimeout(
      () => fail(`cannot be reached (${last}): start Homewater, or name another with --url`),
      FIRST_CONNECTION_MS,
    );
    client.on("error", (error) => {
      last = ("code" in error && typeof error.code === "string" ? error.code : error.message) || last;
      // A number is the broker's own answer to CONNECT: it is there and does not want us.
      if ("code" in error && typeof error.code === "number")
        fail(`refuses the connection (${error.message}): give --user and --password`);
      else if (last === "ECONNREFUSED" || last === "ENOTFOUND")
        fail(`cannot be reached (${last}): start Homewater, or name another with --url`);
    });
    client.once("connect", () => {
      clearTimeout(deadline);
      client.removeAllListeners("error");
      resolve(client);
    });
  });
}

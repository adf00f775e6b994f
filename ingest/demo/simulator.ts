/**
 * The demo's gateway: a client of its own that publishes the scenario's readings over MQTT, QoS 1, as they fall due. While the broker is
 * away it keeps what falls due and sends it, with its own times, when it is back.
 */
import { setTimeout as pause } from "node:timers/promises";
import { connectAsync, type MqttClient } from "mqtt";
import { pino } from "pino";
import { DAY, type Instant, SECOND } from "#core/time/index.ts";
import { quantity, stateWord } from "#core/units/index.ts";
import { openScenario, type Scenario } from "../scenario/load.ts";
import { readingsBetween, type ScenarioReading } from "../scenario/readings.ts";
import { readConnection } from "./connection.ts";

const log = pino({ name: "gateway" }, pino.destination(2));
const stop = new AbortController();
for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, () => stop.abort());

function messageOf(scenario: Scenario, reading: ScenarioReading): { topic: string; payload: string } | null {
  const stream = scenario.streams[reading.stream];
  const spec = stream && quantity(stream.quantity);
  if (!stream || !spec) return null;
  const value = spec.kind === "state" ? stateWord(spec, reading.value) : reading.value;
  return {
    topic: `homewater/${scenario.site.code}/${stream.system}/${stream.point}/${stream.quantity}`,
    payload: JSON.stringify({ at: reading.at, value, ...(spec.kind === "number" && { unit: spec.unit }) }),
  };
}

async function publish(
  client: MqttClient,
  scenario: Scenario,
  readings: Iterable<ScenarioReading>,
): Promise<void> {
  const sent: Promise<unknown>[] = [];
  for (const reading of readings) {
    const message = messageOf(scenario, reading);
    if (message) sent.push(client.publishAsync(message.topic, message.payload, { qos: 1 }));
  }
  await Promise.all(sent);
}

async function main(): Promise<void> {
  const [folder, file, anchorText, fromText] = process.argv.slice(2);
  if (!folder || !file) throw new Error("usage: simulator.ts SCENARIO-FOLDER CONNECTION-FILE ANCHOR FROM");
  const [anchor, start] = [Number(anchorText), Number(fromText)];
  const scenario = openScenario(folder);
  const { mqttUrl, user, password } = readConnection(file);
  const client = await connectAsync(mqttUrl, {
    username: user,
    password,
    clientId: "pennacombe-gateway",
    clean: false,
    reconnectPeriod: SECOND,
    connectTimeout: 10 * SECOND,
  });
  client.on("error", (error) => log.warn({ trouble: error.message }, "the broker cannot be reached"));
  let from: Instant = start;
  while (!stop.signal.aborted) {
    const to = Date.now();
    // A machine that slept must not wake to a week of readings at once: the gateway's memory holds a day.
    from = Math.max(from, to - DAY);
    await publish(client, scenario, readingsBetween(scenario, anchor, from, to, "as-sampled"));
    from = to;
    await pause(SECOND - (Date.now() % SECOND), undefined, { signal: stop.signal }).catch(
      (error: unknown) => {
        if (!stop.signal.aborted) throw error;
      },
    );
  }
  client.end(true);
}

main().catch((error: unknown) => {
  if (stop.signal.aborted) return;
  log.fatal(error, "the simulated gateway cannot continue");
  process.exitCode = 1;
});

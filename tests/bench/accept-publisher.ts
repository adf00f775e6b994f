/**
 * A publisher in a process of its own: `accept-publisher.ts client|pipelined PORT MESSAGES IN_FLIGHT RUN [READINGS [CONNECTIONS]]`; prints messages
 * acknowledged a second. `client` is MQTT.js; `pipelined` writes ready-made packets, faster than a client library can. READINGS: how
 * many a message carries, one as an object and more as an array. CONNECTIONS: over how many the messages are spread, with IN_FLIGHT each.
 */
import { connect } from "node:net";
import mqtt from "mqtt";
import { topicOf } from "../ingest/accept-parts.ts";
import { answerReader, connectPacket, publishPacket } from "../ingest/raw-mqtt.ts";

const kind = process.argv[2];
const [port, messages, inFlight, run, readings = 1, connections = 1] = process.argv.slice(3).map(Number) as [
  number,
  number,
  number,
  number,
  number?,
  number?,
];
/** As many streams as a small site has; each reading has its own time. */
const POINTS = 50;
const WARM_UP = Math.round(messages / 5);
const TOTAL = messages + WARM_UP;

const topics = Array.from({ length: POINTS }, (_, n) => topicOf("temperature", `display-${n}`));
const start = Date.parse("2026-03-01T00:00:00Z") + run * messages * readings * 10;
const topicFor = (n: number) => topics[n % POINTS] as string;
const reading = (n: number) => ({ at: start + n, value: Math.round(1_200 + (n % 97)) / 100 });
const payloads = Array.from({ length: TOTAL }, (_, n) =>
  JSON.stringify(
    readings === 1 ? reading(n) : Array.from({ length: readings }, (_, i) => reading(n * readings + i)),
  ),
);

let answered = 0;
let began = 0;
/** Counts one acknowledgement; true when it was the last. */
function count(): boolean {
  answered += 1;
  if (answered === WARM_UP) began = performance.now();
  if (answered < TOTAL) return false;
  const perSecond = messages / ((performance.now() - began) / 1_000);
  process.stdout.write(`${JSON.stringify({ perSecond })}\n`, () => process.exit(0));
  return true;
}

function pipelined(connection: number): void {
  const packets = payloads
    .filter((_, n) => n % connections === connection)
    .map((payload, n) => publishPacket(topicFor(n * connections + connection), payload, (n % 65_535) + 1));
  let next = 0;
  let own = 0;
  const socket = connect(port, "127.0.0.1");
  socket.setNoDelay(true);
  const read = answerReader((answer) => {
    if (answer !== "puback") return;
    own += 1;
    count();
  });
  socket.on("data", (chunk) => {
    read(chunk);
    const to = Math.min(packets.length, own + inFlight);
    if (to > next) socket.write(Buffer.concat(packets.slice(next, to)));
    next = Math.max(next, to);
  });
  socket.on("close", () => process.exit(1));
  socket.write(connectPacket(`bench-${process.pid}-${connection}`, "gateway", "kelp-forest-7"));
}

async function client(): Promise<void> {
  const publisher = await mqtt.connectAsync(`mqtt://127.0.0.1:${port}`, {
    username: "gateway",
    password: "kelp-forest-7",
    reconnectPeriod: 0,
  });
  publisher.on("close", () => process.exit(1));
  let next = 0;
  const send = () => {
    if (next >= TOTAL) return;
    const n = next;
    next += 1;
    publisher.publish(topicFor(n), payloads[n] as string, { qos: 1 }, () => {
      if (!count()) send();
    });
  };
  for (let n = 0; n < inFlight; n += 1) send();
}

if (kind === "client") await client();
else for (let connection = 0; connection < connections; connection += 1) pipelined(connection);

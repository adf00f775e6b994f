/**
 * The accepting process. Started by `npm run demo` and `npm start`; says `{"ready":true,"port":...}` on standard output once it
 * takes messages (port null where the broker is another machine's), logs to standard error, and ends cleanly on SIGTERM.
 * Where it cannot start it says why in one sentence and ends with code 2: no message is taken from anybody.
 */
import { setTimeout as sleep } from "node:timers/promises";
import { pino } from "pino";
import { embeddedLogin } from "#config/embedded-login.ts";
import { readSettings, SettingsError } from "#config/env.ts";
import { openAccepting } from "#config/open-accepting.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { StoreError } from "#store/port.ts";
import { keepBackups } from "../backup/schedule.ts";
import { keepReport } from "../health/report-process.ts";
import { startEmbeddedBroker } from "./embedded-broker.ts";
import { keepStatus } from "./status.ts";
import { startSubscriber } from "./subscriber.ts";

const CANNOT_START = 2;
const FIRST_CONNECTION_MS = 10_000;
const log = pino({ name: "accept" }, pino.destination(2));

async function start(): Promise<() => Promise<void>> {
  const settings = readSettings(process.env);
  const { mqtt } = settings;
  if (mqtt.url === null) embeddedLogin(mqtt);
  const { store, clock } = await openAccepting(settings);
  try {
    await store.note("up", null, clock());
    const acceptor = createAcceptor({ store, clock });
    const [site] = (await store.readSetUp()).sites;
    const { edge, port } =
      mqtt.url === null
        ? await embedded(acceptor, embeddedLogin(mqtt))
        : await external(acceptor, mqtt.url, site?.code ?? null);
    const status = keepStatus({ edge, store, acceptor, clock, log });
    const { minutes: backupMinutes } = settings.backup;
    const report = keepReport({
      name: "accepting",
      settings,
      store,
      clock,
      log,
      more: () => {
        const { waiting, lastCommitMs, failedCommits, trouble } = acceptor.counts();
        return { waiting, lastCommitMs, failedCommits, trouble, backupMinutes };
      },
    });
    const backups =
      settings.backup.minutes > 0 ? keepBackups({ store, clock, log, ...settings.backup }) : null;
    process.stdout.write(`${JSON.stringify({ ready: true, port })}\n`);
    return async () => {
      await backups?.stop();
      await report.stop();
      await status.stop();
      await edge.close();
      await store.close();
    };
  } catch (error) {
    await store.close();
    throw error;
  }

  async function embedded(
    acceptor: ReturnType<typeof createAcceptor>,
    publisher: ReturnType<typeof embeddedLogin>,
  ) {
    const { host, port } = mqtt;
    const edge = await startEmbeddedBroker({ acceptor, log, host, port, publisher });
    log.info({ host, port: edge.port }, "the embedded broker listens");
    return { edge, port: edge.port };
  }
  async function external(acceptor: ReturnType<typeof createAcceptor>, url: string, site: string | null) {
    const { clientId, user, password } = mqtt;
    const edge = startSubscriber({ acceptor, log, url, clientId, user, password, site });
    // A broker that is away must not keep the dashboard from starting: it is waited for in the background.
    const first = await Promise.race([
      edge.ready.then(() => true),
      sleep(FIRST_CONNECTION_MS, false, { ref: false }),
    ]);
    if (!first) log.warn("started without the broker: connecting again until it answers");
    return { edge, port: null };
  }
}

function isExpected(error: unknown): error is Error {
  return (
    error instanceof SettingsError ||
    error instanceof StoreError ||
    (error instanceof Error && "code" in error && (error.code === "EADDRINUSE" || error.code === "EACCES"))
  );
}

let stop: (() => Promise<void>) | undefined;
let isStopping = false;
async function end(): Promise<void> {
  if (isStopping) return;
  isStopping = true;
  await stop?.();
  process.exit(0);
}
process.on("SIGTERM", () => void end());
process.on("SIGINT", () => void end());

try {
  stop = await start();
} catch (error) {
  if (!isExpected(error)) throw error;
  const isTaken = "code" in error && error.code === "EADDRINUSE";
  const remedy = isTaken
    ? ": stop the program that uses it, or set HOMEWATER_MQTT_PORT to another port."
    : "";
  process.stderr.write(`Accepting cannot start. ${error.message}${remedy}\n`);
  process.exit(CANNOT_START);
}

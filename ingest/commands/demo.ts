/**
 * The demo: an invented aquarium with a year behind it, readings arriving over MQTT. Run by demo.mjs, which installs and builds. Ends on
 * SIGINT or SIGTERM; started again it continues where it stopped.
 */
import { mkdirSync } from "node:fs";
import { createServer } from "node:net";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { parseArgs } from "node:util";
import { readSettings, type Settings, SettingsError } from "#config/env.ts";
import { openDependencies, openSigningIn } from "#config/open.ts";
import { DAY, MINUTE } from "#core/time/index.ts";
import { countText } from "#core/units/figures-text.ts";
import { uuidV7 } from "#services/new-id.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { type Store, StoreError } from "#store/port.ts";
import {
  connectionExists,
  type DemoConnection,
  newConnection,
  readConnection,
  writeConnection,
} from "../demo/connection.ts";
import { loadDays } from "../demo/load-days.ts";
import { loadHistory } from "../demo/load-history.ts";
import { accepting, dashboard, evaluating, simulating } from "../demo/parts.ts";
import { ensureDemoPeople, newPasswords } from "../demo/people.ts";
import { say, sayReady, showProgress } from "../demo/say.ts";
import { createSupervisor, type Supervisor } from "../demo/supervise.ts";
import { waitForBuild, waitForDashboard } from "../demo/wait.ts";
import { writeHabitat } from "../demo/write-habitat.ts";
import { streamIds, writeSetUp } from "../demo/write-set-up.ts";
import { anchorEndingYesterday } from "../scenario/clock.ts";
import { openScenario } from "../scenario/load.ts";

const SCENARIO = join(import.meta.dirname, "../../fixtures/pennacombe");
const DAYS = 14;
const FAST_DAYS = 2;

const stop = new AbortController();
for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.on(signal, () => stop.abort());
const stopped = () => stop.signal.aborted;

/** A port that is free now, where the settings leave it open (0). */
function freePort(setting: string, host: string, wanted: number): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once("error", (error: NodeJS.ErrnoException) =>
      reject(
        error.code === "EADDRINUSE"
          ? new SettingsError(setting, {
              says: `is ${wanted}, and that port is in use`,
              remedy: "set it to a free one, or 0",
            })
          : error,
      ),
    );
    probe.listen(wanted, host, () => {
      const { port } = probe.address() as { port: number };
      probe.close(() => resolve(port));
    });
  });
}

async function connectionFor(settings: Settings, file: string): Promise<DemoConnection> {
  const scenario = openScenario(SCENARIO);
  const known = connectionExists(file)
    ? readConnection(file)
    : newConnection(anchorEndingYesterday(Date.now(), scenario.site.zone), {
        password: settings.mqtt.password ?? settings.demoPassword,
        token: settings.apiToken,
        people: newPasswords(settings.demoPassword),
      });
  const httpPort = await freePort("HOMEWATER_HTTP_PORT", settings.http.host, settings.http.port);
  const mqttPort = await freePort("HOMEWATER_MQTT_PORT", settings.mqtt.host, settings.mqtt.port);
  return {
    ...known,
    mqttUrl: `mqtt://${settings.mqtt.host}:${mqttPort}`,
    httpUrl: `http://${settings.http.host}:${httpPort}`,
  };
}

interface Demo {
  readonly settings: Settings;
  readonly store: Store;
  readonly file: string;
  readonly fast: boolean;
  readonly supervisor: Supervisor;
  connection: DemoConnection;
}

function keep(demo: Demo, change: Partial<DemoConnection>): void {
  demo.connection = { ...demo.connection, ...change };
  writeConnection(demo.file, demo.connection);
}

/** The fourteen days and today so far; only what is missing. Gives the stream ids. */
async function loadRecent(demo: Demo): Promise<number[]> {
  const { store, connection } = demo;
  const scenario = openScenario(SCENARIO);
  const { anchor } = connection;
  const first = demo.fast ? anchor + (DAYS - FAST_DAYS) * DAY : anchor;
  const isSetUp = (await store.readSetUp()).sites.length > 0;
  const streams = isSetUp
    ? await streamIds(store, scenario)
    : await writeSetUp(store, scenario, anchor, first);
  if (!isSetUp) await writeHabitat(store, first);
  if (connection.daysLoadedTo !== null) return streams;
  // Started before and stopped: what is stored shows how far it got.
  const begun = (await store.status()).journal?.received ?? first;
  const from = Math.max(first, begun - (begun % MINUTE) - MINUTE);
  const to = Date.now() - (Date.now() % MINUTE);
  say(`loading ${demo.fast ? "the last days" : "fourteen days"} of Pennacombe Aquarium ...`);
  const source = await store.ensureSource("gateway", "gateway");
  const writing = { setUp: createSetUpReader(store, Date.now), newId: uuidV7 };
  const progress = showProgress("days loaded");
  const count = await loadDays({
    store,
    scenario,
    anchor,
    from,
    to,
    streams,
    writing,
    source: source.id,
    progress,
    stopped,
  });
  if (!stopped()) keep(demo, { daysLoadedTo: to });
  say(`${countText(count)} readings accepted`);
  return streams;
}

async function loadBehind(demo: Demo, streams: readonly number[]): Promise<void> {
  if (demo.connection.historyLoaded || demo.fast || stopped()) return;
  say("the year before is being imported in the background; everything can be used meanwhile");
  const count = await loadHistory({
    store: demo.store,
    scenario: openScenario(SCENARIO),
    anchor: demo.connection.anchor,
    streams,
    clock: Date.now,
    progress: showProgress("year imported"),
    stopped,
    breathe: () => pause(20),
  });
  if (stopped()) return;
  keep(demo, { historyLoaded: true });
  say(
    `${countText(count)} readings of the year before are imported; they are being evaluated in the background`,
  );
}

async function run(demo: Demo): Promise<void> {
  const { supervisor, settings } = demo;
  writeConnection(demo.file, demo.connection);
  const environment = { ...settingsFor(demo) };
  const { auth } = await openSigningIn(settings, { store: demo.store, clock: Date.now, newId: uuidV7 });
  await ensureDemoPeople(demo.store, demo.connection.people, auth.hash, uuidV7);
  await supervisor.start(evaluating(environment));
  const streams = await loadRecent(demo);
  if (stopped()) return;
  await supervisor.start(accepting(environment));
  await supervisor.start(simulating(environment, SCENARIO, demo.file, demo.connection.anchor, Date.now()));
  const build = await waitForBuild(stop.signal);
  if (stopped()) return;
  if (build !== "ok") throw new Error(`the dashboard could not be built: ${build}`);
  const url = new URL(demo.connection.httpUrl);
  await supervisor.start(dashboard(environment, url.hostname, Number(url.port)));
  await waitForDashboard(demo.connection, stop.signal);
  if (stopped()) return;
  sayReady(demo.connection, settings.data);
  await loadBehind(demo, streams);
  while (!stopped()) await pause(DAY, undefined, { signal: stop.signal }).catch(ignoreStop);
}

function ignoreStop(error: unknown): void {
  if (!stopped()) throw error;
}

/** The parts run with the demo's own credentials and the very ports it found. */
function settingsFor({ settings, connection }: Demo): Record<string, string> {
  return {
    HOMEWATER_DATA: settings.data,
    HOMEWATER_DATABASE_URL: settings.databaseUrl,
    HOMEWATER_MQTT_PORT: new URL(connection.mqttUrl).port,
    HOMEWATER_MQTT_USER: connection.user,
    HOMEWATER_MQTT_PASSWORD: connection.password,
    HOMEWATER_HTTP_PORT: new URL(connection.httpUrl).port,
    HOMEWATER_API_TOKEN: connection.token,
    // A demo need not fill a disk with a year of invented water, again and again.
    HOMEWATER_BACKUP_MINUTES: process.env.HOMEWATER_BACKUP_MINUTES ?? "60",
    HOMEWATER_BACKUP_KEEP: process.env.HOMEWATER_BACKUP_KEEP ?? "2,0,0",
  };
}

async function main(): Promise<void> {
  const { values } = parseArgs({ options: { "fast-history": { type: "boolean", default: false } } });
  const settings = readSettings(process.env);
  mkdirSync(settings.data, { recursive: true });
  const file = join(settings.data, "demo.json");
  const connection = await connectionFor(settings, file);
  const { store } = await openDependencies(settings, { migrate: true, acknowledges: false });
  const supervisor = createSupervisor(join(settings.data, "demo.log"), stopped, (name, code) =>
    say(`${name} ended unexpectedly (code ${code}); see ${join(settings.data, "demo.log")}`),
  );
  try {
    await run({ settings, store, file, fast: values["fast-history"], supervisor, connection });
  } finally {
    await supervisor.stop();
    await store.close();
    say("stopped; `npm run demo` continues from here");
  }
}

main().catch((error: unknown) => {
  const expected = error instanceof SettingsError || error instanceof StoreError;
  process.stderr.write(
    `The demo cannot continue. ${expected ? error.message : error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`,
  );
  process.exitCode = 1;
});

/** `npm run doctor`: checks everything Homewater needs, whether it runs or not, and says what is wrong and what to do. Changes nothing. */
import type { Stats } from "node:fs";
import { access, constants, stat } from "node:fs/promises";
import { connect } from "node:net";
import { dirname } from "node:path";
import { checkDatabase, databaseFile } from "#config/backup.ts";
import { readSettings, type Settings, SettingsError, shownSettings } from "#config/env.ts";
import { openDependencies } from "#config/open.ts";
import type { Instant } from "#core/time/instant.ts";
import { type HealthItem, type HealthState, judgeHealth } from "#core/upkeep/judge.ts";
import { type Store, StoreError } from "#store/port.ts";
import { surroundings } from "../health/report-process.ts";

export interface DoctorEnvironment {
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly clock: () => Instant;
  /** One line each. */
  readonly out: (line: string) => void;
  readonly nodeVersion: string;
}

const MARKS: Readonly<Record<HealthState, string>> = {
  act: "WRONG",
  look: "look ",
  unknown: "?    ",
  good: "ok   ",
};
const MINIMUM_NODE = [20, 19] as const;
const CONNECT_MS = 2_000;

const item = (id: string, label: string, state: HealthState, says: string, remedy = ""): HealthItem => ({
  id,
  label,
  state,
  says,
  since: null,
  remedy,
});

/** Resolves with the process's exit code: 1 if anything needs fixing. */
export async function runDoctor(around: DoctorEnvironment): Promise<number> {
  const items: HealthItem[] = [node(around.nodeVersion)];
  try {
    const settings = readSettings(around.environment);
    around.out("Settings, as read:");
    for (const [name, value] of shownSettings(settings, around.environment))
      around.out(`  ${name} = ${value}`);
    around.out("");
    items.push(
      await folder(settings),
      ...(await store(settings, around)),
      await broker(settings),
      await dashboard(settings),
    );
  } catch (error) {
    if (!(error instanceof SettingsError)) throw error;
    items.push(
      item(
        "settings",
        "Settings",
        "act",
        `${error.setting} ${error.says}; nothing else was checked.`,
        `${error.remedy.charAt(0).toUpperCase()}${error.remedy.slice(1)}.`,
      ),
    );
  }
  for (const { label, state, says, remedy } of items)
    around.out(`${MARKS[state]} ${label}: ${says}${remedy === "" || state === "good" ? "" : ` ${remedy}`}`);
  const wrong = items.filter(({ state }) => state === "act").length;
  around.out("");
  around.out(
    wrong === 0
      ? "Nothing needs fixing."
      : `${wrong === 1 ? "One thing needs" : `${wrong} things need`} fixing.`,
  );
  return wrong === 0 ? 0 : 1;
}

function node(version: string): HealthItem {
  const [major = 0, minor = 0] = version.split(".").map(Number);
  const isEnough = major > MINIMUM_NODE[0] || (major === MINIMUM_NODE[0] && minor >= MINIMUM_NODE[1]);
  return isEnough
    ? item("node", "Node", "good", `${version} is new enough.`)
    : item(
        "node",
        "Node",
        "act",
        `${version} is too old: Homewater needs ${MINIMUM_NODE.join(".")} or newer.`,
        "Install a newer Node.",
      );
}

/** What is at a path; null if nothing is. Any other failure, such as a folder on the way that may not be entered, is returned as a sentence. */
async function lookAt(path: string): Promise<Stats | string | null> {
  try {
    return await stat(path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ENOENT" || code === "ENOTDIR") return null;
    return `${path} cannot be read (${code ?? String(error)}).`;
  }
}

async function folder({ data }: Settings): Promise<HealthItem> {
  const found = await lookAt(data);
  if (typeof found === "string")
    return item(
      "folder",
      "Data folder",
      "act",
      found,
      "Give this user access to it and to the folders above.",
    );
  if (found === null) {
    const parent = await access(dirname(data), constants.W_OK).then(
      () => true,
      () => false,
    );
    return parent
      ? item("folder", "Data folder", "unknown", `${data} does not exist yet; the first start creates it.`)
      : item(
          "folder",
          "Data folder",
          "act",
          `${data} does not exist and cannot be created.`,
          "Create it, or set HOMEWATER_DATA to another folder.",
        );
  }
  const isWritable = await access(data, constants.W_OK).then(
    () => true,
    () => false,
  );
  return isWritable && found.isDirectory()
    ? item("folder", "Data folder", "good", `${data} is writable.`)
    : item(
        "folder",
        "Data folder",
        "act",
        `${data} ${found.isDirectory() ? "is not writable" : "is not a folder"}.`,
        "Give this user write access to it, or set HOMEWATER_DATA to another folder.",
      );
}

async function store(settings: Settings, around: DoctorEnvironment): Promise<HealthItem[]> {
  const file = databaseFile(settings.databaseUrl);
  const found = file === null ? undefined : await lookAt(file);
  if (typeof found === "string")
    return [
      item("database", "Database", "act", found, "Give this user access to it and to the folders above."),
    ];
  if (found === null)
    return [
      item("database", "Database", "unknown", `${file} does not exist yet; the first start creates it.`),
    ];
  let opened: Store;
  try {
    opened = (await openDependencies(settings, { migrate: false, acknowledges: false })).store;
  } catch (error) {
    if (!(error instanceof StoreError)) throw error;
    return [item("database", "Database", "act", error.message)];
  }
  try {
    return [await database(settings, opened), ...(await health(settings, opened, around.clock()))];
  } finally {
    await opened.close();
  }
}

async function database(settings: Settings, opened: Store): Promise<HealthItem> {
  const { schema, where } = await opened.status();
  const trouble = checkDatabase(settings.databaseUrl);
  return trouble === null
    ? item("database", "Database", "good", `${where} opens, has schema ${schema} and is intact.`)
    : item(
        "database",
        "Database",
        "act",
        `${where}: ${trouble}.`,
        "Stop Homewater and restore the newest backup: npm run restore.",
      );
}

/** What the health page says, with disk space and size as they are now. */
async function health(settings: Settings, opened: Store, now: Instant): Promise<readonly HealthItem[]> {
  const [status, { processes, lease }, backups, around] = await Promise.all([
    opened.status(),
    opened.readProcesses(),
    opened.readBackups(),
    surroundings(settings),
  ]);
  const here = {
    name: "doctor",
    host: "",
    pid: process.pid,
    started: now,
    at: now,
    report: { memory: 0, ...around },
  };
  return judgeHealth({
    ...status,
    now,
    rejudging: status.rejudging.length,
    processes: [...processes, here],
    lease,
    backups,
  });
}

function reaches(host: string, port: number): Promise<string | null> {
  return new Promise((resolve) => {
    const socket = connect({ host, port, timeout: CONNECT_MS });
    const end = (why: string | null) => {
      socket.destroy();
      resolve(why);
    };
    socket.once("connect", () => end(null));
    socket.once("timeout", () => end("does not answer"));
    socket.once("error", (error) => end(error.message));
  });
}

const USUAL_PORTS: Readonly<Record<string, number>> = {
  "mqtt:": 1883,
  "mqtts:": 8883,
  "ws:": 80,
  "wss:": 443,
};

async function broker({ mqtt }: Settings): Promise<HealthItem> {
  if (mqtt.url !== null) {
    const { hostname, port, protocol } = new URL(mqtt.url);
    const at = port === "" ? (USUAL_PORTS[protocol] ?? 1883) : Number(port);
    const why = await reaches(hostname, at);
    return why === null
      ? item("broker", "Broker", "good", `${hostname}:${at} answers.`)
      : item(
          "broker",
          "Broker",
          "act",
          `${hostname}:${at} cannot be reached (${why}).`,
          "Check that the broker is running and that no firewall is in the way.",
        );
  }
  if (mqtt.user === null)
    return item(
      "broker",
      "Broker",
      "act",
      "The embedded broker accepts nothing: no user and password are set.",
      "Set HOMEWATER_MQTT_USER and HOMEWATER_MQTT_PASSWORD, or set HOMEWATER_MQTT_URL to your own broker.",
    );
  const why = await reaches(mqtt.host, mqtt.port);
  return why === null
    ? item(
        "broker",
        "Broker",
        "good",
        `Port ${mqtt.port} of ${mqtt.host} is in use: by the embedded broker if Homewater is running, otherwise by another program.`,
      )
    : item(
        "broker",
        "Broker",
        "look",
        `Nothing listens at ${mqtt.host}:${mqtt.port}.`,
        "It belongs to the embedded broker, which listens while Homewater runs.",
      );
}

async function dashboard({ http }: Settings): Promise<HealthItem> {
  const why = await reaches(http.host, http.port);
  return why === null
    ? item("dashboard", "Dashboard", "good", `Port ${http.port} of ${http.host} answers.`)
    : item(
        "dashboard",
        "Dashboard",
        "look",
        `Nothing listens at ${http.host}:${http.port}.`,
        "It belongs to the dashboard, which listens while Homewater runs.",
      );
}

/** Live readings with their own times, sent while the processes are killed: what was acknowledged is there, and each excursion is one alarm. */
import mqtt, { type MqttClient } from "mqtt";
import { afterEach, expect, it } from "vitest";
import type { Store } from "#store/port.ts";
import { evaluateAll, evaluatorOf } from "../helpers/evaluated.ts";
import { firstDifference } from "../helpers/first-difference.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { createProcessTree } from "../helpers/process-tree.ts";
import { until } from "../ingest/accept-parts.ts";
import {
  createHome,
  everythingJudged,
  type Home,
  killsOr,
  LOGIN,
  letLeaseRunOut,
  seeded,
  seedOfRun,
} from "./home.ts";
import { QUANTITIES, SITE, type SondeQuantity, SYSTEMS, setUpSondes } from "./sonde-site.ts";

const SECOND = 1_000;
const INTERVAL_MS = 5 * SECOND;
const STEPS = 100;
/** Old enough that none is ahead of the clock, young enough (under fifteen minutes) that none is late however slow the machine is. */
const BACK_MS = 9 * 60 * SECOND;
/** Far longer than the delays of these streams (three samples to raise and as long to return). */
const EXCURSION_STEPS = 18;

const closers: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close();
});

interface LiveReading {
  readonly name: string;
  readonly topic: string;
  readonly at: number;
  readonly value: number;
}
const CALM: Readonly<Record<SondeQuantity, number>> = {
  temperature: 15,
  conductivity: 40.5,
  ph: 8.05,
  dissolved_oxygen: 8.1,
};
/** What each probe shows during its system's excursion: all beyond the action limit, oxygen not saturated either. */
const OFF: Readonly<Record<SondeQuantity, number>> = {
  temperature: 18.5,
  conductivity: 36.5,
  ph: 7.6,
  dissolved_oxygen: 5.5,
};

/** Every probe leaves its band once, at different moments; the bay's temperature comes back too warm a second time. */
function liveReadings(begin: number): LiveReading[] {
  const all: LiveReading[] = [];
  for (let step = 0; step < STEPS; step++) {
    for (const [s, system] of SYSTEMS.entries()) {
      for (const [q, quantity] of QUANTITIES.entries()) {
        const since = step - (8 + s * 5 + q * 12);
        const isSecond = system === "bay" && quantity === "temperature" && step >= 70 && step < 88;
        const isOff = (since >= 0 && since < EXCURSION_STEPS) || isSecond;
        all.push({
          name: `${system} ${quantity}`,
          topic: `homewater/${SITE}/${system}/display/${quantity}`,
          at: begin + step * INTERVAL_MS,
          value: isOff ? OFF[quantity] : CALM[quantity] + ((step * 7 + q) % 5) * 0.004,
        });
      }
    }
  }
  return all;
}

interface BandAlarm {
  /** System, quantity, origin and side. */
  readonly name: string;
  readonly states: readonly string[];
  /** The readings that moved it. */
  readonly moved: readonly number[];
}

/** What was alarmed about bands, in order of name; two alarms of one stream and side are two entries. */
async function bandAlarms(store: Store): Promise<BandAlarm[]> {
  const { streams } = await store.readSetUp();
  const alarms: BandAlarm[] = [];
  for (const alarm of await store.readAlarms({ limit: 10_000 })) {
    if (alarm.kind !== "out of band") continue;
    const stream = streams.find((one) => one.id === alarm.stream);
    const transitions = await store.readTransitions(alarm.id);
    alarms.push({
      name: `${stream?.system} ${alarm.quantity} ${stream?.origin} ${alarm.rule} ${alarm.severity}`,
      states: transitions.map(({ from, to, cause, limit }) => `${from} ${to} ${cause} ${limit}`),
      moved: transitions.map(({ eventAt }) => eventAt),
    });
  }
  return alarms.sort((a, b) => (a.name < b.name ? -1 : 1));
}

/** The same readings, one commit a step, judged by an evaluator that nobody disturbs. */
async function alarmsUndisturbed(readings: readonly LiveReading[]): Promise<BandAlarm[]> {
  const { store, dispose } = await temporaryStore();
  try {
    const streams = await setUpSondes(store, { now: Date.now(), intervalMs: INTERVAL_MS, critical: false });
    const { id: source } = await store.ensureSource("publisher", "gateway");
    const perStep = SYSTEMS.length * QUANTITIES.length;
    for (let start = 0; start < readings.length; start += perStep) {
      const few = readings.slice(start, start + perStep);
      await store.append({
        now: (few[0]?.at ?? 0) + SECOND,
        readings: few.map(({ name, at, value }) => ({
          stream: streams.get(name) ?? 0,
          at,
          value,
          source,
          sequence: null,
          mark: null,
        })),
        rejected: [],
        unclaimed: [],
      });
    }
    await evaluateAll(await evaluatorOf(store));
    return await bandAlarms(store);
  } finally {
    await dispose();
  }
}

async function connected(home: Home): Promise<MqttClient> {
  const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${home.port()}`, {
    username: LOGIN.user,
    password: LOGIN.password,
    clientId: "publisher",
    clean: false,
    reconnectPeriod: 100,
  });
  client.on("error", () => {
    // Refused while the processes are down; it tries again.
  });
  closers.push(() => client.endAsync(true));
  return client;
}

it("live readings through kills: what was acknowledged is stored, and every excursion is one alarm", {
  timeout: 180_000 + killsOr(3) * 60_000,
}, async () => {
  const seed = seedOfRun();
  console.info(`live: seed ${seed}`);
  const random = seeded(seed);
  const kills = killsOr(3);
  const tree = createProcessTree();
  closers.push(() => tree.killAll());
  const { store, file, dispose } = await temporaryStore();
  closers.push(dispose);
  const streams = await setUpSondes(store, { now: Date.now(), intervalMs: INTERVAL_MS, critical: false });
  const home = createHome(tree, { HOMEWATER_DATABASE_URL: `file:${file}` });
  await home.start();
  const readings = liveReadings(Date.now() - BACK_MS);
  const client = await connected(home);
  const acknowledged: LiveReading[] = [];
  let trouble: Error | null = null;
  // The library drops what it is given while it sends again after a reconnect, should the connection end again: it is given nothing then.
  let isOpen = true;
  const waiting: LiveReading[] = [];
  const publishWaiting = () => {
    for (let one = isOpen ? waiting.shift() : undefined; one !== undefined; one = waiting.shift()) {
      const sent = one;
      client.publish(sent.topic, JSON.stringify({ at: sent.at, value: sent.value }), { qos: 1 }, (error) => {
        if (error) trouble ??= error;
        else acknowledged.push(sent);
      });
    }
  };
  client.on("connect", () => {
    isOpen = true;
    publishWaiting();
  });
  client.on("close", () => {
    isOpen = false;
  });
  const storedNow = async () => {
    const found = new Map<string, number>();
    for (const [name, stream] of streams)
      for (const { at, value } of await store.readingsBetween(
        [stream],
        0,
        Number.MAX_SAFE_INTEGER,
        Number.MAX_SAFE_INTEGER,
      ))
        found.set(`${name} ${at}`, value);
    return found;
  };
  const missingOf = (found: ReadonlyMap<string, number>, told: readonly LiveReading[]) =>
    told.filter(({ name, at, value }) => found.get(`${name} ${at}`) !== value);

  const moments = Array.from({ length: kills }, (_, kill) =>
    Math.floor(((kill + 0.1 + 0.8 * random()) / kills) * readings.length),
  );
  const atKills: string[] = [];
  for (const [index, one] of readings.entries()) {
    waiting.push(one);
    publishWaiting();
    // A pace at which dozens of commits and passes of the evaluator lie between two kills.
    if (index % 12 === 11) await new Promise((resolve) => setTimeout(resolve, 25));
    if (!moments.includes(index)) continue;
    await until(() => acknowledged.length > index / 2, "half of it is acknowledged", 60_000);
    await home.kill();
    const told = [...acknowledged];
    const found = await storedNow();
    expect(missingOf(found, told), "acknowledged, and not stored").toEqual([]);
    atKills.push(`${told.length} of ${found.size} stored`);
    await letLeaseRunOut(store);
    await home.start();
  }
  await until(
    () => trouble !== null || acknowledged.length === readings.length,
    "all is acknowledged",
    60_000,
  );
  expect(trouble).toBeNull();
  await everythingJudged(store, 60_000);
  await home.stop();

  const found = await storedNow();
  expect(missingOf(found, readings)).toEqual([]);
  const { counts } = await store.status();
  expect([found.size, counts.readings, counts.conflicts]).toEqual([readings.length, readings.length, 0]);
  const alarms = await bandAlarms(store);
  // Three systems; temperature, salinity, pH and oxygen each once, and oxygen saturation with them.
  expect(alarms.map(({ name }) => name.split(" ").slice(0, 2).join(" "))).toEqual(
    SYSTEMS.flatMap((system) =>
      ["dissolved_oxygen", "oxygen_saturation", "ph", "salinity", "temperature"].map(
        (quantity) => `${system}-id ${quantity}`,
      ),
    ).sort(),
  );
  const undisturbed = await alarmsUndisturbed(readings);
  const standing = (all: readonly BandAlarm[]) => all.map(({ name, states }) => ({ name, states }));
  expect(firstDifference(standing(alarms), standing(undisturbed))).toBeNull();
  // A commit that parts the readings of one instant may show an alarm its cause one reading later.
  const shifts = alarms.flatMap(({ moved }, i) => moved.map((at, k) => at - (undisturbed[i]?.moved[k] ?? 0)));
  expect(Math.max(...shifts.map(Math.abs))).toBeLessThanOrEqual(INTERVAL_MS);
  console.info(
    `live: ${kills} kills, acknowledged at the kills ${atKills.join("; ")}; ${acknowledged.length} acknowledged, ` +
      `${counts.readings} stored, ${counts.duplicates} duplicates, ${alarms.length} alarms of bands`,
  );
});

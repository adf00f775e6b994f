/**
 * From publishing over MQTT to being seen: in an event of GET /api/v1/live, and in the page of a real browser, at a steady rate, with the
 * accepting, evaluating and dashboard processes as they run; beside a bare MQTT subscriber to a broker with no store.
 */
import mqtt from "mqtt";
import type { LiveEvent } from "#contract/views.ts";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { type Running, startBrowser, startHomewater } from "#tests/e2e/harness.ts";
import { SITE } from "#tests/e2e/seed.ts";
import { chromiumPath, skipReason } from "#tests/helpers/system-parts.ts";
import { ended, linesOf, startScript } from "../accept-embedded.ts";
import { type Arrivals, allSeen, arrivals, now, steadily } from "../arrivals.ts";
import { type BenchOptions, type BenchRow, percentile } from "../bench-row.ts";
import { type BenchSite, CADENCE, readingsAt, setUpBenchSite, valueAt } from "../invented-site.ts";
import { streamsShown, tellValues } from "../page-values.ts";

export const name = "live";

const SYSTEMS = 20;
const RATES = [200, 2_000];
const SECONDS = 8;
const LONGEST_WAIT = 15_000;

interface Pace {
  /** Readings a second. */
  readonly rate: number;
  readonly seconds: number;
}
interface Sent {
  readonly path: string;
  readonly at: number;
  readonly value: number;
}

/**
 * Readings of all streams in turn, as from gateways that stamp each value when they read it. Each has a value of its own, so that it can
 * be told from every other where it is shown; the value rises by too little to be news by itself.
 */
function createSource({ streams }: BenchSite): () => Sent {
  const base = Date.now();
  const lastOf = new Map<string, number>();
  let [n, round] = [0, 0];
  return () => {
    const index = n++ % streams.length;
    if (index === 0) round += 1;
    const { system, pointCode, quantity } = streams[index] as BenchSite["streams"][number];
    const value = Math.round(valueAt(index, base) * 10_000 + round) / 10_000;
    const at = Math.max(Date.now(), (lastOf.get(system) ?? 0) + 1);
    lastOf.set(system, at);
    return { path: `${system}/${pointCode}/${quantity}`, at, value };
  };
}

/** Follows the live updates until `stop`; every probe's value that an event brings has been seen. */
async function follow(
  url: string,
  tracked: () => Arrivals | null,
): Promise<{ stop(): Promise<void>; events(): number }> {
  const abort = new AbortController();
  const response = await fetch(`${url}/api/v1/live`, { signal: abort.signal });
  if (!response.ok || response.body === null) throw new Error(`live updates answered ${response.status}`);
  const body = response.body;
  let events = 0;
  const take = (text: string, at: number) => {
    const data = /^data: (.*)$/m.exec(text)?.[1];
    if (data === undefined) return;
    events += 1;
    for (const { system, streams } of (JSON.parse(data) as LiveEvent).systems)
      for (const row of streams)
        if (row.origin === "probe" && row.at !== null)
          tracked()?.seen(`${system}/${row.point}/${row.quantity}`, row.at, at);
  };
  const reading = (async () => {
    const decoder = new TextDecoder();
    let text = "";
    const reader = body.getReader();
    for (let read = await reader.read(); !read.done; read = await reader.read()) {
      const at = now();
      text += decoder.decode(read.value, { stream: true });
      const parts = text.split("\n\n");
      text = parts.pop() ?? "";
      for (const part of parts) take(part, at);
    }
  })().catch((error: Error) => {
    if (!abort.signal.aborted) throw error;
  });
  return {
    events: () => events,
    async stop() {
      abort.abort();
      await reading;
    },
  };
}

interface Listening {
  /** What rises with each reading of a stream and is shown where it is seen. */
  readonly order: "at" | "value";
  /** Streams that are shown at all. */
  readonly shows?: ReadonlySet<string>;
  /** From now on what is seen counts here. */
  readonly into: (tracked: Arrivals) => void;
}

/** Publishes at a rate while somebody listens; how long each reading took to be seen. The first second is not counted. */
async function publishing(
  { rate, seconds }: Pace,
  next: () => Sent,
  publish: (sent: Sent) => Promise<unknown>,
  { order, shows, into }: Listening,
): Promise<number[]> {
  const pending: Promise<unknown>[] = [];
  const during = async (time: number) => {
    const tracked = arrivals();
    into(tracked);
    await steadily(rate, time, () => {
      const reading = next();
      if (shows?.has(reading.path) ?? true) tracked.sent(reading.path, reading[order]);
      pending.push(publish(reading));
    });
    return tracked;
  };
  await during(1);
  const counted = await during(seconds);
  await Promise.all(pending);
  const missing = await allSeen(counted, LONGEST_WAIT);
  if (missing > 0)
    throw new Error(
      `${missing} readings were not seen within ${LONGEST_WAIT} ms, of ${counted.streamsWaiting().slice(0, 5).join(", ")}`,
    );
  return counted.delays;
}

/** A client that publishes and one that listens, at a broker that keeps nothing. */
async function bareSubscriber(next: () => Sent, pace: Pace): Promise<number[]> {
  const server = startScript("accept-server.ts", "bare");
  const { port } = (await linesOf(server).next()) as { port: number };
  const url = `mqtt://127.0.0.1:${port}`;
  const [publisher, listener] = [await mqtt.connectAsync(url), await mqtt.connectAsync(url)];
  try {
    let tracked: Arrivals | null = null;
    await listener.subscribeAsync("homewater/#", { qos: 0 });
    listener.on("message", (topic, payload) => {
      const at = now();
      const { at: order } = JSON.parse(payload.toString()) as { at: number };
      tracked?.seen(topic.split("/").slice(2).join("/"), order, at);
    });
    const publish = ({ path, at, value }: Sent) =>
      publisher.publishAsync(`homewater/${SITE}/${path}`, JSON.stringify({ at, value }), { qos: 1 });
    return await publishing(pace, next, publish, {
      order: "at",
      into: (counting) => {
        tracked = counting;
      },
    });
  } finally {
    await publisher.endAsync(true);
    await listener.endAsync(true);
    await ended(server);
  }
}

const publishTo =
  (running: Running) =>
  ({ path, at, value }: Sent) =>
    running.publish(path, { at, value });

async function overEvents(running: Running, next: () => Sent, pace: Pace): Promise<number[]> {
  let tracked: Arrivals | null = null;
  const following = await follow(running.url, () => tracked);
  try {
    return await publishing(pace, next, publishTo(running), {
      order: "at",
      into: (counting) => {
        tracked = counting;
      },
    });
  } finally {
    await following.stop();
  }
}

async function inBrowser(
  running: Running,
  next: () => Sent,
  chromium: string,
  pace: Pace,
): Promise<number[]> {
  const browser = await startBrowser(chromium);
  try {
    let tracked: Arrivals | null = null;
    const page = await (await browser.newContext({ locale: "en-GB" })).newPage();
    await page.goto(`${running.url}/systems`);
    await page.waitForSelector('[data-connection="live"]');
    // The page's own values; which of them the rack shows depends on its columns, so only those are waited for.
    const shown = await streamsShown(page);
    if (shown.size === 0) throw new Error("the page shows no values");
    await tellValues(page, (stream, value, at) => tracked?.seen(stream, value, at));
    return await publishing(pace, next, publishTo(running), {
      order: "value",
      shows: shown,
      into: (counting) => {
        tracked = counting;
      },
    });
  } finally {
    await browser.close();
  }
}

const SHARES = [0.5, 0.95, 0.99] as const;

function rowsOf(
  what: string,
  delays: readonly number[],
  reference: readonly number[],
  isTarget: boolean,
): BenchRow[] {
  return SHARES.map((share) => ({
    what: `${what}, p${share * 100}`,
    unit: "ms",
    ours: percentile(delays, share),
    reference: percentile(reference, share),
    referenceIs: "a bare MQTT subscriber, no store",
    target: isTarget && share === 0.99 ? { of: "ours", atMost: 500 } : null,
  }));
}

export async function run({ scale, say }: BenchOptions): Promise<BenchRow[]> {
  const seconds = Math.max(2, SECONDS * scale);
  let site: BenchSite | undefined;
  const running = await startHomewater(async (store) => {
    const started = Date.now();
    site = await setUpBenchSite(store, SYSTEMS, started - 2 * HOUR, SITE);
    // An hour behind it, as a site has: what a system was like a quarter of an hour ago is known.
    for (let at = started - HOUR; at < started - MINUTE; at += CADENCE)
      await store.append({ now: at + 1_000, readings: readingsAt(site, at), rejected: [], unclaimed: [] });
  });
  try {
    if (site === undefined) throw new Error("nothing was set up");
    const chromium = chromiumPath();
    const next = createSource(site);
    const rows: BenchRow[] = [];
    // One round before anything is measured: every stream has a value, every process has done its work once.
    await overEvents(running, next, { rate: 480, seconds: 1 });
    for (const rate of RATES) {
      const reference = await bareSubscriber(next, { rate, seconds });
      const delays = await overEvents(running, next, { rate, seconds });
      say(`  ${rate}/s: ${delays.length} readings seen in events`);
      rows.push(...rowsOf(`event, ${rate} readings/s`, delays, reference, true));
      if (chromium === null) {
        const missing = { ours: null, reference: null, referenceIs: "", target: null, unit: "ms" };
        rows.push({ what: `page, ${rate} readings/s`, ...missing, note: skipReason("chromium") });
        continue;
      }
      const seen = await inBrowser(running, next, chromium, { rate, seconds });
      say(`  ${rate}/s: ${seen.length} readings seen in the page`);
      rows.push(...rowsOf(`page, ${rate} readings/s`, seen, reference, true));
    }
    return rows;
  } finally {
    await running.stop();
  }
}

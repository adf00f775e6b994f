/**
 * Plays a described site for days in minutes: gateways publish to a real embedded broker, the evaluator follows, people use the API, and all
 * of it on one clock that the night moves. Nothing is called inside: what a night says is read where its users read it.
 */
import mqtt, { type MqttClient } from "mqtt";
import { pino } from "pino";
import { vi } from "vitest";
import { openAuth } from "#auth/open-auth.ts";
import type { Auth } from "#auth/port.ts";
import { rankOfQuantity } from "#core/evaluate/derivations.ts";
import { TOPIC_ROOT } from "#core/gateway/index.ts";
import type { Role } from "#core/people/index.ts";
import { guessedRole } from "#core/set-up/guessed-role.ts";
import { DAY, type Instant, MINUTE } from "#core/time/instant.ts";
import type { QuantityId } from "#core/units/index.ts";
import type { Evaluator } from "#services/evaluate/evaluator.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { uuidV7 } from "#services/new-id.ts";
import type { Store } from "#store/port.ts";
import { evaluatorOf } from "#tests/helpers/evaluated.ts";
import { temporaryStore } from "#tests/helpers/open-store.ts";
import { cookieFor, makePerson } from "#tests/helpers/sign-in.ts";
import { type EmbeddedBroker, startEmbeddedBroker } from "../../ingest/accept/embedded-broker.ts";
import { noise } from "./courses.ts";
import {
  type Band,
  edgesOf,
  type GatewayDescription,
  type SiteDescription,
  wallTime,
} from "./description.ts";

// Next itself answers these; under plain Node there is nothing behind them.
const asking = vi.hoisted(() => ({ headers: new Headers() }));
vi.mock("server-only", () => ({}));
vi.mock("next/headers", () => ({ headers: async () => asking.headers }));
const { buildAppDeps, setAppDeps } = await import("#app/_server/deps.ts");
const { callRoute } = await import("./routes.ts");
const { pageText } = await import("./pages.ts");

const PUBLISHER = { user: "gateway", password: "long enough for a night" };
const SECRET = "a secret for nights, long enough to sign with";
const HOST = "localhost:3000";
const SILENT = pino({ level: "silent" });
const PEOPLE: readonly Role[] = ["administrator", "curator", "technician", "aquarist", "viewer"];

interface Sending {
  readonly due: Instant;
  readonly gateway: string;
  readonly topic: string;
  readonly text: string;
  readonly rank: number;
}
interface Sampled {
  readonly gateway: string;
  readonly topic: string;
  readonly every: number;
  /** Inputs before what is computed from them, as they are judged. */
  readonly rank: number;
  readonly read: (at: Instant) => number | string | null;
  next: Instant;
}

const within = (spans: GatewayDescription["away"], at: Instant) =>
  spans?.find(([from, to]) => from <= at && at < to);

const aheadOf = ({ ahead = 0 }: GatewayDescription, at: Instant): number =>
  typeof ahead === "number" ? ahead : ahead(at);

/** When what a gateway read at an instant reaches the broker; null: never. */
function arrivalOf(gateway: GatewayDescription, at: Instant): Instant | null {
  if (within(gateway.dead, at)) return null;
  const { block, delay = 0 } = gateway;
  const sent = (block ? Math.ceil((at + 1) / block) * block : at) + delay;
  return within(gateway.away, sent)?.[1] ?? sent;
}

export class Night {
  now: Instant;
  private readonly probes: readonly Sampled[];
  private waiting: Sending[] = [];
  private readonly clients = new Map<string, Promise<MqttClient>>();
  private readonly cookies = new Map<Role, string>();
  private broker: EmbeddedBroker | null = null;
  private evaluator: Evaluator | null = null;
  private sequence = 0;
  private readonly looks: { readonly every: number; next: Instant; readonly look: () => Promise<void> }[] =
    [];

  private constructor(
    readonly site: SiteDescription,
    readonly store: Store,
    private readonly auth: Auth,
    private readonly dispose: () => Promise<void>,
    from: Instant,
    private readonly tick: number,
  ) {
    this.now = from;
    this.probes = probesOf(site, from);
  }

  /** Sets the site up in an empty folder and starts broker and evaluator, at a wall time of the site. */
  static async open(
    site: SiteDescription,
    { from, tick = 5 * MINUTE }: { readonly from: string; readonly tick?: number },
  ): Promise<Night> {
    const begins = wallTime(from, site.zone);
    // Only the date is shifted: the timers of broker and client stay real.
    vi.useFakeTimers({ toFake: ["Date"], now: begins });
    const { store, dispose } = await temporaryStore();
    const clock = () => Date.now();
    const auth = openAuth({ store, clock, secret: SECRET, secure: false, newId: uuidV7 });
    const night = new Night(site, store, auth, dispose, begins, tick);
    await setUp(store, site, begins);
    for (const role of PEOPLE) await makePerson(store, auth, role, { now: begins });
    const settings = { apiToken: null, host: "127.0.0.1", publicUrl: null };
    setAppDeps(buildAppDeps(store, clock, settings, { auth, oneTimePassword: () => "none in a night" }));
    await night.startAccepting();
    await night.startEvaluating();
    return night;
  }

  async startAccepting(): Promise<void> {
    const { store } = this;
    const clock = () => Date.now();
    await store.note("up", null, clock());
    const acceptor = createAcceptor({ store, clock });
    const options = { acceptor, log: SILENT, host: "127.0.0.1", port: 0, publisher: PUBLISHER };
    this.broker = await startEmbeddedBroker(options);
  }

  /** What gateways read meanwhile they keep, as after a lost connection. */
  async stopAccepting(): Promise<void> {
    for (const client of this.clients.values()) await (await client).endAsync(true);
    this.clients.clear();
    await this.broker?.close();
    this.broker = null;
  }

  async startEvaluating(): Promise<void> {
    this.evaluator = await evaluatorOf(this.store, () => Date.now(), `night-${this.now}`);
  }

  async stopEvaluating(): Promise<void> {
    await this.evaluator?.release();
    this.evaluator = null;
  }

  async close(): Promise<void> {
    await this.stopAccepting();
    await this.stopEvaluating();
    setAppDeps(undefined);
    await this.dispose();
    vi.useRealTimers();
  }

  /** An instant of the site's wall clock: "2026-11-03 21:40". */
  at(text: string): Instant {
    return wallTime(text, this.site.zone);
  }

  /** Calls `look` every so many ms of the night from now on: for what must never be said. */
  lookEvery(every: number, look: () => Promise<void>): void {
    this.looks.push({ every, next: this.now + every, look });
  }

  /** Plays on to a wall time of the site (or an instant): everything sent until then has been accepted and judged. */
  async to(until: string | Instant): Promise<void> {
    const end = typeof until === "string" ? this.at(until) : until;
    if (end < this.now) throw new Error(`the night is past ${until} already`);
    while (this.now < end) {
      const step = Math.min(end, this.now + this.tick);
      await this.deliver(step);
      this.setClock(step);
      await this.judge();
      for (const each of this.looks)
        if (this.now >= each.next) {
          each.next = this.now + each.every;
          await each.look();
        }
    }
  }

  async get<T = unknown>(path: string, role: Role = "technician"): Promise<T> {
    return (await this.call("GET", path, undefined, role)) as T;
  }

  /** What the API answers; what it refuses is an error with its words. The evaluator has seen it when this resolves. */
  async post<T = unknown>(path: string, body: object, role: Role = "technician"): Promise<T> {
    const answer = (await this.call("POST", path, body, role)) as T;
    await this.judge();
    return answer;
  }

  /** Bench results of one sample, each as value and unit, taken by an aquarist now unless said. */
  async bench(
    system: string,
    results: Readonly<Record<string, readonly [value: string, unit: string, method?: string]>>,
    { point = "display", at = this.now }: { readonly point?: string; readonly at?: Instant } = {},
  ): Promise<void> {
    const body = {
      clientId: uuidV7(this.now + this.sequence++),
      system,
      point,
      sampledAt: new Date(at).toISOString(),
      results: Object.entries(results).map(([quantity, [value, unit, method]]) => ({
        quantity,
        value,
        unit,
        ...(method === undefined ? {} : { method }),
      })),
    };
    await this.post("/bench-tests", body, "aquarist");
  }

  async log(
    kind: string,
    systems: readonly string[],
    text: string,
    more: Readonly<Record<string, unknown>> = {},
  ): Promise<void> {
    const at = new Date(this.now).toISOString();
    await this.post("/log-entries", {
      clientId: uuidV7(this.now + this.sequence++),
      kind,
      systems,
      at,
      text,
      ...more,
    });
  }

  /** What stands on a page: its words in reading order, as a person of this role sees them now. */
  async page(path: string, role: Role = "technician"): Promise<string> {
    asking.headers = await this.headersOf(role);
    if ((await this.auth.sessionOf(asking.headers)) === null) {
      // The session of an earlier day has ended.
      this.cookies.delete(role);
      asking.headers = await this.headersOf(role);
    }
    return pageText(path);
  }

  private setClock(at: Instant): void {
    this.now = at;
    vi.setSystemTime(at);
  }

  private async judge(): Promise<void> {
    const { evaluator } = this;
    if (!evaluator) return;
    while (!(await evaluator.pass({ hurry: true })).isIdle);
    await evaluator.pass({ ticking: true, hurry: true });
  }

  private sample(until: Instant): void {
    for (const probe of this.probes) {
      const gateway = this.site.gateways[probe.gateway] ?? {};
      for (; probe.next <= until; probe.next += probe.every) {
        const at = probe.next;
        const due = arrivalOf(gateway, at);
        const value = due === null ? null : probe.read(at);
        if (due === null || value === null) continue;
        const text = JSON.stringify({ at: new Date(at + aheadOf(gateway, at)).toISOString(), value });
        this.waiting.push({ due, gateway: probe.gateway, topic: probe.topic, text, rank: probe.rank });
      }
    }
    this.waiting.sort((a, b) => a.due - b.due || a.rank - b.rank);
  }

  private async deliver(until: Instant): Promise<void> {
    this.sample(until);
    if (!this.broker) return;
    const count = this.waiting.findIndex(({ due }) => due > until);
    const due = count < 0 ? this.waiting : this.waiting.slice(0, count);
    this.waiting = count < 0 ? [] : this.waiting.slice(count);
    for (let i = 0; i < due.length; ) {
      const at = due[i]?.due as Instant;
      let end = i;
      while (due[end]?.due === at) end++;
      // What waited while nothing was accepted comes when it is: the clock never goes back.
      if (at > this.now) this.setClock(at);
      // What is measured at one instant comes with its inputs first; what overtakes is another night's subject.
      for (let from = i; from < end; ) {
        let to = from;
        while (to < end && due[to]?.gateway === due[from]?.gateway) to++;
        await Promise.all(due.slice(from, to).map((sending) => this.publish(sending)));
        from = to;
      }
      i = end;
    }
  }

  private async publish({ gateway, topic, text }: Sending): Promise<void> {
    let client = this.clients.get(gateway);
    if (!client) {
      client = mqtt.connectAsync(`mqtt://127.0.0.1:${this.broker?.port}`, {
        username: PUBLISHER.user,
        password: PUBLISHER.password,
        clientId: gateway,
        keepalive: 0,
      });
      this.clients.set(gateway, client);
    }
    await (await client).publishAsync(topic, text, { qos: 1 });
  }

  private async headersOf(role: Role): Promise<Headers> {
    const cookie = this.cookies.get(role) ?? (await cookieFor(this.auth, role));
    this.cookies.set(role, cookie);
    return new Headers({ host: HOST, origin: `http://${HOST}`, cookie });
  }

  private async call(method: string, path: string, body: object | undefined, role: Role): Promise<unknown> {
    for (const isAgain of [false, true]) {
      const headers = await this.headersOf(role);
      if (body) headers.set("content-type", "application/json");
      const request = new Request(`http://${HOST}/api/v1${path}`, {
        method,
        headers,
        body: body ? JSON.stringify(body) : null,
      });
      const response = await callRoute(request);
      if (response.status === 401 && !isAgain) {
        this.cookies.delete(role);
        continue;
      }
      const answer: unknown = await response.json();
      if (!response.ok) throw new Error(`${method} ${path}: ${response.status} ${JSON.stringify(answer)}`);
      return answer;
    }
    return undefined;
  }
}

function probesOf(site: SiteDescription, from: Instant): Sampled[] {
  return Object.entries(site.systems).flatMap(([system, { points }]) =>
    Object.entries(points).flatMap(([point, { probes }]) =>
      Object.entries(probes).map(([quantity, probe]) => {
        const topic = `${TOPIC_ROOT}/${site.code}/${system}/${point}/${quantity}`;
        const { every, gateway, course, noise: deviation = 0, decimals = 3 } = probe;
        const read = (at: Instant) => {
          const value = course(at);
          if (typeof value !== "number") return value;
          return Number((value + noise(topic, at, deviation)).toFixed(decimals));
        };
        const rank = rankOfQuantity(quantity as QuantityId);
        return { gateway, topic, every, rank, read, next: Math.ceil(from / every) * every };
      }),
    ),
  );
}

const isMonthly = (band: Band | readonly Band[]): band is readonly Band[] => Array.isArray(band[0]);

async function setUp(store: Store, site: SiteDescription, now: Instant): Promise<void> {
  const { code, name, zone, latitude, longitude, elevation } = site;
  const opened = now - 400 * DAY;
  const systems = Object.entries(site.systems);
  await store.writeSetUp(
    {
      sites: [{ id: code, code, name, zone, latitude, longitude, elevation }],
      systems: systems.map(([id, system]) => ({
        id,
        site: code,
        code: id,
        name: system.name,
        kind: system.kind,
        type: system.type ?? "exhibit",
        startingBands: null,
        water: system.water,
        volume: system.volume,
        duty: system.duty ?? null,
        opened: system.opened ?? opened,
        closed: null,
        youngFilter: false,
      })),
      loops: Object.entries(site.loops ?? {}).map(([id, loop]) => ({
        id,
        site: code,
        code: id,
        name: loop.name,
        members: loop.systems,
      })),
      points: systems.flatMap(([system, { points }]) =>
        Object.entries(points).map(([point, { role, twinOf }]) => ({
          id: `${system}/${point}`,
          system,
          code: point,
          role: role ?? guessedRole(point),
          roleGuessed: role === undefined,
          twinOf: twinOf === undefined ? null : `${system}/${twinOf}`,
        })),
      ),
      bands: systems.flatMap(([system, { bands = {} }]) =>
        Object.entries(bands).map(([of, band]) => {
          const [quantity, point = null] = of.split("/").reverse() as [string, string?];
          return {
            id: `${system}/${of}`,
            system,
            quantity,
            point: point === null ? null : point,
            months: (isMonthly(band) ? band : [band]).map(edgesOf),
            validFrom: opened,
            validTo: null,
            recordedAt: opened,
            setBy: "curator",
            reason: "first bands",
            source: "the house's own practice",
          };
        }),
      ),
    },
    [],
    opened,
  );
  for (const [system, { points }] of systems)
    for (const [point, { probes }] of Object.entries(points))
      for (const [quantity, { every, critical = false }] of Object.entries(probes))
        await store.ensureStream(`${system}/${point}`, quantity, "probe", { interval: every, critical });
}

import type { ReadingTopic } from "#core/gateway/index.ts";
import type { SetUp, SourceKind, Store } from "#store/port.ts";

/** Past this many senders of one kind the rest share one source: throw-away client ids must not fill the table of sources. */
const SOURCES_PER_KIND = 1_000;
const SHARED_SOURCE = "(other senders)";
/** Names may be changed by another process: everything learnt is looked up again after this long. */
const RELEARN_MS = 30_000;
/** Of the time between two readings of the set-up at most one part in this many is spent on reading it. */
const REFRESH_SHARE = 20;
const UNKNOWN_KEPT = 10_000;

export interface Directory {
  /** The stream of a topic where it is known by now; undefined = ask `learn`. Null = the site, system or point is not set up. */
  streamOf(topic: string): number | null | undefined;
  /** Looks up these topics, creating streams of known points; what `streamOf` does not know afterwards is not set up. */
  learn(wanted: ReadonlyMap<string, ReadingTopic>): Promise<void>;
  sourceOf(client: string, kind: SourceKind): number | undefined;
  learnSource(client: string, kind: SourceKind): Promise<number>;
  /** The site of a system by its short name; null where it is not set up. */
  siteOf(system: string): Promise<string | null>;
  /** Forget what may be out of date. Cheap; called once a commit. */
  relearn(): Promise<void>;
}

/**
 * Which stream a topic belongs to, kept in memory and refreshed when the store has changed. `elapsed` is a clock that never steps, in
 * milliseconds. Rejects only where the store does.
 */
export function createDirectory(store: Store, elapsed: () => number): Directory {
  let known: Known | undefined;
  let mark: number | undefined;
  let readAt = 0;
  let nextRead = 0;
  const streams = new Map<string, number>();
  let unknown = new Set<string>();
  const sources = new Map<SourceKind, Map<string, number>>();

  async function refresh(): Promise<boolean> {
    const seen = await store.changeMark();
    if (known !== undefined && seen === mark) return false;
    const before = elapsed();
    known = indexed(await store.readSetUp());
    mark = seen;
    readAt = elapsed();
    nextRead = readAt + (readAt - before) * REFRESH_SHARE;
    unknown = new Set();
    return true;
  }

  function isFound(topic: string, names: ReadingTopic): boolean {
    const point = known?.points.get(pointKey(names.site, names.system, names.point));
    const stream = point && known?.streams.get(streamKey(point, names.quantity));
    if (typeof stream !== "number") return false;
    streams.set(topic, stream);
    return true;
  }

  async function make(topic: string, names: ReadingTopic): Promise<void> {
    const point = known?.points.get(pointKey(names.site, names.system, names.point));
    if (point !== undefined)
      streams.set(topic, (await store.ensureStream(point, names.quantity, "probe")).id);
    else if (unknown.size < UNKNOWN_KEPT) unknown.add(topic);
  }

  return {
    streamOf(topic) {
      const stream = streams.get(topic);
      if (stream !== undefined) return stream;
      return unknown.has(topic) && elapsed() < nextRead ? null : undefined;
    },

    async learn(wanted) {
      const left = [...wanted].filter(([topic, names]) => !isFound(topic, names));
      if (left.length === 0) return;
      // Before a stream is made the set-up is looked at again: a person may just have changed it.
      await refresh();
      for (const [topic, names] of left) if (!isFound(topic, names)) await make(topic, names);
    },

    sourceOf: (client, kind) => sources.get(kind)?.get(client),

    async learnSource(client, kind) {
      const ofKind = sources.get(kind) ?? new Map<string, number>();
      sources.set(kind, ofKind);
      const sender = ofKind.size < SOURCES_PER_KIND || ofKind.has(client) ? client : SHARED_SOURCE;
      const before = ofKind.get(sender);
      if (before !== undefined) return before;
      // A source's code is unique over the kinds: the same gateway sends live readings and recorded ones.
      const code = kind === "gateway" && !sender.includes(":") ? sender : `${kind}:${sender}`;
      const { id } = await store.ensureSource(code, kind);
      ofKind.set(sender, id);
      return id;
    },

    async siteOf(system) {
      const found = known?.sites.get(system) ?? ((await refresh()) ? known?.sites.get(system) : undefined);
      return found ?? null;
    },

    async relearn() {
      if (known === undefined || elapsed() - readAt < RELEARN_MS) return;
      if (await refresh()) streams.clear();
      else readAt = elapsed();
    },
  };
}

/** The set-up as accepting asks for it. */
interface Known {
  /** Site by system, both by short name. */
  readonly sites: ReadonlyMap<string, string>;
  /** Point id by the short names of site, system and point. */
  readonly points: ReadonlyMap<string, string>;
  /** Stream of a probe or a machine by point id and quantity. */
  readonly streams: ReadonlyMap<string, number>;
}
const pointKey = (site: string, system: string, point: string) => `${site}/${system}/${point}`;
const streamKey = (point: string, quantity: string) => `${point}/${quantity}`;

function indexed(setUp: SetUp): Known {
  const siteCodes = new Map(setUp.sites.map((site) => [site.id, site.code]));
  const systems = new Map(setUp.systems.map((system) => [system.id, system]));
  const sites = new Map<string, string>();
  for (const { code, site } of setUp.systems) {
    const siteCode = siteCodes.get(site);
    if (siteCode !== undefined) sites.set(code, siteCode);
  }
  const points = new Map<string, string>();
  for (const point of setUp.points) {
    const system = systems.get(point.system);
    const site = system && siteCodes.get(system.site);
    if (site !== undefined) points.set(pointKey(site, system?.code ?? "", point.code), point.id);
  }
  const streams = new Map<string, number>();
  for (const { point, quantity, origin, id } of setUp.streams)
    if (origin === "probe" || (origin === "equipment" && !streams.has(streamKey(point, quantity))))
      streams.set(streamKey(point, quantity), id);
  return { sites, points, streams };
}

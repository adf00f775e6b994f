import type { ReadingTopic } from "../../core/wire/index.ts";
import type { SetUp, SourceKind, Store } from "../../store/port.ts";

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
  let setUp: SetUp | undefined;
  let mark: number | undefined;
  let readAt = 0;
  let nextRead = 0;
  const streams = new Map<string, number>();
  let unknown = new Set<string>();
  const sources = new Map<SourceKind, Map<string, number>>();

  async function refresh(): Promise<boolean> {
    const seen = await store.changeMark();
    if (setUp !== undefined && seen === mark) return false;
    const before = elapsed();
    setUp = await store.readSetUp();
    mark = seen;
    readAt = elapsed();
    nextRead = readAt + (readAt - before) * REFRESH_SHARE;
    unknown = new Set();
    return true;
  }

  function pointOf(names: ReadingTopic): string | undefined {
    const site = setUp?.sites.find((one) => one.code === names.site);
    const system = setUp?.systems.find((one) => one.code === names.system && one.site === site?.id);
    return setUp?.points.find((one) => one.code === names.point && one.system === system?.id)?.id;
  }

  async function resolve(topic: string, names: ReadingTopic): Promise<boolean> {
    const point = pointOf(names);
    if (point === undefined) return false;
    const measured = setUp?.streams.find(
      (one) =>
        one.point === point &&
        one.quantity === names.quantity &&
        (one.origin === "probe" || one.origin === "equipment"),
    );
    const stream = measured ?? (await store.ensureStream(point, names.quantity, "probe"));
    streams.set(topic, stream.id);
    return true;
  }

  return {
    streamOf(topic) {
      const known = streams.get(topic);
      if (known !== undefined) return known;
      return unknown.has(topic) && elapsed() < nextRead ? null : undefined;
    },

    async learn(wanted) {
      const left: [string, ReadingTopic][] = [];
      for (const [topic, names] of wanted) {
        if (setUp === undefined || !(await resolve(topic, names))) left.push([topic, names]);
      }
      if (left.length === 0) return;
      await refresh();
      for (const [topic, names] of left)
        if (!(await resolve(topic, names)) && unknown.size < UNKNOWN_KEPT) unknown.add(topic);
    },

    sourceOf: (client, kind) => sources.get(kind)?.get(client),

    async learnSource(client, kind) {
      const known = sources.get(kind) ?? new Map<string, number>();
      sources.set(kind, known);
      const sender = known.size < SOURCES_PER_KIND || known.has(client) ? client : SHARED_SOURCE;
      const before = known.get(sender);
      if (before !== undefined) return before;
      // A source's code is unique over the kinds: the same gateway sends live readings and recorded ones.
      const code = kind === "gateway" && !sender.includes(":") ? sender : `${kind}:${sender}`;
      const { id } = await store.ensureSource(code, kind);
      known.set(sender, id);
      return id;
    },

    async siteOf(system) {
      const find = () => {
        const found = setUp?.systems.find((one) => one.code === system);
        return setUp?.sites.find((one) => one.id === found?.site)?.code ?? null;
      };
      return find() ?? ((await refresh()) ? find() : null);
    },

    async relearn() {
      if (setUp === undefined || elapsed() - readAt < RELEARN_MS) return;
      if (await refresh()) streams.clear();
      else readAt = elapsed();
    },
  };
}

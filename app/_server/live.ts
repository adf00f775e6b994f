import type { LiveEvent, SystemState, SystemsView } from "#contract/views.ts";
import { createChanges } from "./live-changes.ts";

export interface LiveSource {
  /** Changes with every commit of any process; asked ten times a second. */
  mark(): Promise<number>;
  /** Changes whenever anybody's rights or sessions do. */
  peopleMark(): Promise<number>;
  read(): Promise<{ readonly view: SystemsView; readonly counts: LiveEvent["counts"] }>;
  failed(error: unknown): void;
}
/** Which systems a listener may see, and whether that still holds. */
export interface Reach {
  sees(code: string): boolean;
  /** False where the listener's session is over or their rights are not what they were. */
  holds(): Promise<boolean>;
}
export interface LiveClient {
  /** False while earlier events are still on their way to a slow listener. */
  ready(): boolean;
  send(seq: number, json: string): void;
  readonly reach: Reach;
  /** The store does not answer: an open, quiet stream would look like a calm aquarium. */
  end(): void;
}
export interface LiveHub {
  /** Sends what changed at or after `since` (everything where that cannot be known), then each change; returns how to stop. */
  join(client: LiveClient, since: number | null): Promise<Subscription>;
  listeners(): number;
}
export interface Subscription {
  /** There is room again: send what was held back. */
  resume(): void;
  /** An event without systems, so that the listener knows that the stream lives. */
  beat(): void;
  leave(): void;
}

const TICK = 100;
/** Silence is the passing of time, not a commit: the states are read again at least this often. */
const LOOK_AGAIN = 5_000;
/** Of the time at most one part in this many goes into reading states. */
const SHARE = 3;
export const MOST_LISTENERS = 500;

type Latest = {
  readonly view: SystemsView;
  readonly counts: LiveEvent["counts"];
  readonly byCode: ReadonlyMap<string, SystemState>;
};

/**
 * One poller for all listeners of this process: it asks for the change mark, reads the states once when it moved and tells everybody what
 * changed. A listener that cannot keep up is told later and gets the newest state, not every state in between.
 */
export function createLiveHub(source: LiveSource): LiveHub {
  const behind = new Map<LiveClient, Set<string>>();
  const changes = createChanges();
  let latest: Latest | undefined;
  let lastMark: number | undefined;
  let lastPeople: number | undefined;
  let lastLook = Number.NEGATIVE_INFINITY;
  let looking: Promise<Latest> | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;

  /** Rights and sessions change at once for who listens, not at their next page. */
  async function lookAtPeople(): Promise<void> {
    const people = await source.peopleMark();
    const had = lastPeople;
    lastPeople = people;
    if (had === undefined || had === people) return;
    const clients = [...behind.keys()];
    const stay = await Promise.all(clients.map((client) => client.reach.holds()));
    for (const [i, client] of clients.entries()) {
      if (stay[i]) continue;
      behind.delete(client);
      client.end();
    }
  }

  async function look(): Promise<Latest> {
    const mark = await source.mark();
    const started = performance.now();
    if (mark !== lastMark) await lookAtPeople();
    if (latest && mark === lastMark && started - lastLook < LOOK_AGAIN) return latest;
    const { view, counts } = await source.read();
    const hadCounts = latest?.counts;
    latest = { view, counts, byCode: new Map(view.systems.map((state) => [state.system, state])) };
    [lastMark, lastLook] = [mark, started];
    const changed = changes.look(view.systems, view.seq);
    const isCounted =
      hadCounts !== undefined &&
      (hadCounts.rejected !== counts.rejected || hadCounts.unclaimed !== counts.unclaimed);
    const texts = new Map<string, string>();
    for (const [client, codes] of behind) {
      for (const code of changed) if (client.reach.sees(code)) codes.add(code);
      if (codes.size > 0 || isCounted) flush(client, codes, latest, texts);
    }
    return latest;
  }

  const lookOnce = () => {
    looking ??= look().finally(() => {
      looking = undefined;
    });
    return looking;
  };

  /** `texts`: listeners that keep up are told the same, which is written once. */
  function flush(
    client: LiveClient,
    codes: Set<string>,
    { view, counts, byCode }: Latest,
    texts?: Map<string, string>,
  ): void {
    if (!client.ready()) return;
    const key = [...codes].sort().join();
    const known = texts?.get(key);
    const systems = known === undefined ? [...codes].flatMap((code) => byCode.get(code) ?? []) : [];
    const text =
      known ?? JSON.stringify({ now: view.now, seq: view.seq, systems, counts } satisfies LiveEvent);
    texts?.set(key, text);
    codes.clear();
    client.send(view.seq, text);
  }

  function plan(after: number): void {
    if (timer !== undefined || behind.size === 0) return;
    timer = setTimeout(tick, after);
    timer.unref();
  }

  async function tick(): Promise<void> {
    const started = performance.now();
    try {
      await lookOnce();
    } catch (error) {
      source.failed(error);
      const clients = [...behind.keys()];
      behind.clear();
      for (const client of clients) client.end();
    }
    timer = undefined;
    const took = performance.now() - started;
    plan(Math.max(TICK, took * SHARE));
  }

  return {
    async join(client, since) {
      const now = await lookOnce();
      const missed = since === null ? undefined : changes.after(since);
      const codes = new Set([...(missed ?? now.byCode.keys())].filter((code) => client.reach.sees(code)));
      behind.set(client, codes);
      flush(client, codes, latest ?? now);
      plan(TICK);
      return {
        resume: () => {
          if (latest && behind.has(client) && codes.size > 0) flush(client, codes, latest);
        },
        beat: () => {
          if (!latest || !behind.has(client) || !client.ready()) return;
          const { view, counts } = latest;
          client.send(
            view.seq,
            JSON.stringify({ now: view.now, seq: view.seq, systems: [], counts } satisfies LiveEvent),
          );
        },
        leave: () => {
          behind.delete(client);
          if (behind.size > 0) return;
          clearTimeout(timer);
          timer = undefined;
        },
      };
    },
    listeners: () => behind.size,
  };
}

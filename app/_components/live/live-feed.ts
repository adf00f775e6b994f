import type { LiveEvent, SystemsView } from "#contract/views.ts";

/**
 * One stream of server-sent events for all tabs of a browser. The tab that holds the lock listens and tells the others;
 * when it closes, the next one takes over. Without locks (a page that is not on https or localhost) every visible tab
 * listens for itself and a hidden one lets go, because a browser opens only about six connections to a host.
 */
export type FeedState = "connecting" | "live" | "reconnecting";
export type FeedMessage =
  | { readonly kind: "event"; readonly event: LiveEvent }
  | { readonly kind: "whole"; readonly view: SystemsView }
  | { readonly kind: "state"; readonly state: FeedState };

const NAME = "homewater-live";
/** Nothing heard for this long: ask for the whole state, and say so when that fails too. */
const QUIET_MS = 20_000;
const RETRY_MS = 3_000;

/** The event of a message, or null for text that is not one; a server of another version must not break the page. */
export function parseLiveEvent(text: string): LiveEvent | null {
  try {
    const value: unknown = JSON.parse(text);
    const isEvent =
      typeof value === "object" &&
      value !== null &&
      "systems" in value &&
      Array.isArray(value.systems) &&
      "seq" in value;
    return isEvent ? (value as LiveEvent) : null;
  } catch {
    return null;
  }
}

async function fetchWhole(signal: AbortSignal): Promise<SystemsView> {
  const answer = await fetch("/api/v1/systems", { signal, cache: "no-store" });
  if (!answer.ok) throw new Error(`The systems could not be read: ${answer.status} ${answer.statusText}`);
  return (await answer.json()) as SystemsView;
}

/** Listens until the signal aborts; `tell` hears everything. */
function listen(tell: (message: FeedMessage) => void, signal: AbortSignal): void {
  let source: EventSource | null = null;
  let heard = performance.now();
  let retry: ReturnType<typeof setTimeout> | undefined;
  let asking = false;
  const ask = async () => {
    if (asking || signal.aborted) return;
    asking = true;
    try {
      tell({ kind: "whole", view: await fetchWhole(signal) });
      heard = performance.now();
      if (source?.readyState === EventSource.OPEN) tell({ kind: "state", state: "live" });
    } catch (failed) {
      if (!signal.aborted) {
        console.info(`No answer from the server yet: ${String(failed)}`);
        tell({ kind: "state", state: "reconnecting" });
      }
    } finally {
      asking = false;
    }
  };
  const take = (message: MessageEvent<string>) => {
    heard = performance.now();
    const event = parseLiveEvent(message.data);
    if (event === null) return;
    tell({ kind: "event", event });
    tell({ kind: "state", state: "live" });
  };
  const open = () => {
    source?.close();
    source = new EventSource("/api/v1/live");
    source.addEventListener("message", take);
    source.onopen = () => {
      tell({ kind: "state", state: "live" });
      // What changed while nobody listened is not sent again: read it once.
      void ask();
    };
    source.onerror = () => {
      tell({ kind: "state", state: "reconnecting" });
      // After an answer that is not a stream (a proxy's error page) the browser gives up for good: open again.
      if (source?.readyState === EventSource.CLOSED) {
        clearTimeout(retry);
        retry = setTimeout(open, RETRY_MS);
      }
    };
  };
  const watch = setInterval(() => {
    if (performance.now() - heard > QUIET_MS) void ask();
  }, QUIET_MS / 4);
  signal.addEventListener("abort", () => {
    clearInterval(watch);
    clearTimeout(retry);
    source?.close();
  });
  open();
}

/** Hear the live feed; returns how to stop. */
export function hearLive(hear: (message: FeedMessage) => void): () => void {
  const stop = new AbortController();
  const { signal } = stop;
  if (!("locks" in navigator) || typeof BroadcastChannel === "undefined") {
    let own = new AbortController();
    const follow = () => {
      own.abort();
      own = new AbortController();
      if (document.visibilityState === "visible" && !signal.aborted) listen(hear, own.signal);
    };
    document.addEventListener("visibilitychange", follow, { signal });
    signal.addEventListener("abort", () => own.abort());
    follow();
    return () => stop.abort();
  }
  const channel = new BroadcastChannel(NAME);
  let leads = false;
  let state: FeedState = "connecting";
  channel.onmessage = ({ data }: MessageEvent<FeedMessage | { readonly kind: "hello" }>) => {
    if (data.kind !== "hello") hear(data);
    else if (leads) channel.postMessage({ kind: "state", state } satisfies FeedMessage);
  };
  navigator.locks
    .request(NAME, { signal }, () => {
      leads = true;
      listen((message) => {
        if (message.kind === "state") state = message.state;
        hear(message);
        if (!signal.aborted) channel.postMessage(message);
      }, signal);
      return new Promise<void>((release) => signal.addEventListener("abort", () => release()));
    })
    .catch((refused: unknown) => {
      if (!signal.aborted) console.error("The lock for the live feed was refused", refused);
    });
  channel.postMessage({ kind: "hello" });
  signal.addEventListener("abort", () => channel.close());
  return () => stop.abort();
}

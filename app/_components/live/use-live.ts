"use client";

import { startTransition, useEffect, useRef, useState } from "react";
import type { SystemsView } from "#contract/views.ts";
import type { FeedMessage, FeedState } from "./live-feed.ts";
import { type LiveState, mergeEvent, mergeWhole, onlyOf } from "./live-merge.ts";

export interface Live extends LiveState {
  readonly connection: FeedState;
  /** Server's clock now, counted on from its last word by the browser's monotonic clock. */
  readonly now: number;
  /** Server's clock when it was last heard. */
  readonly heard: number;
}

const RETRY_MS = 3_000;

/** The state of all systems, or of the one named, kept up to date. Events that arrive together are drawn together. */
export function useLive(initial: SystemsView, rejected: number | null, code?: string): Live {
  const [state, setState] = useState<LiveState>({ view: initial, rejected });
  const [connection, setConnection] = useState<FeedState>("connecting");
  const [now, setNow] = useState(initial.now);
  const [heard, setHeard] = useState(initial.now);
  const clock = useRef({ server: initial.now, local: 0 });
  useEffect(() => {
    clock.current = { server: initial.now, local: performance.now() };
    const word = (server: number) => {
      clock.current = { server, local: performance.now() };
      setHeard(server);
    };
    const take = (message: FeedMessage) => {
      if (message.kind === "state") setConnection(message.state);
      else if (message.kind === "event") {
        word(message.event.now);
        setState((s) => mergeEvent(s, onlyOf(message.event, code)));
      } else {
        word(message.view.now);
        setState((s) => mergeWhole(s, onlyOf(message.view, code)));
      }
    };
    let stop = () => {};
    let isOver = false;
    let retry: ReturnType<typeof setTimeout> | undefined;
    // Fetched once the page is awake: what the server wrote can be read without it.
    const begin = () =>
      import("./live-feed.ts").then(
        ({ hearLive }) => {
          // Never urgent: a part of the page whose script is still on its way keeps what the server wrote until it is there.
          if (!isOver) stop = hearLive((message) => startTransition(() => take(message)));
        },
        (failed: unknown) => {
          console.info(`Live updates could not be fetched yet: ${String(failed)}`);
          if (isOver) return;
          setConnection("reconnecting");
          retry = setTimeout(begin, RETRY_MS);
        },
      );
    begin();
    const tick = setInterval(() => {
      const passed = Math.round(clock.current.server + performance.now() - clock.current.local);
      startTransition(() => setNow(passed));
    }, 1000);
    return () => {
      isOver = true;
      clearTimeout(retry);
      stop();
      clearInterval(tick);
    };
  }, [initial.now, code]);
  return { ...state, connection, now: Math.max(now, state.view.now), heard };
}

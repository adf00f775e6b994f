import type { LiveClient, LiveHub, Reach, Subscription } from "./live.ts";

const HEARTBEAT = 15_000;
/** How far a slow listener may fall behind before it is told later, and then the newest. */
const ROOM = 256 * 1024;

/**
 * The body of a server-sent event stream (WHATWG HTML section 9.2): `id` is the journal position, so a browser that reconnects says how
 * far it was. Every timer stops when the listener goes away, by abort or by cancel.
 */
export async function liveStream(
  hub: LiveHub,
  since: number | null,
  signal: AbortSignal,
  reach: Reach,
): Promise<ReadableStream<Uint8Array>> {
  const encoder = new TextEncoder();
  let controller: ReadableStreamDefaultController<Uint8Array> | undefined;
  let subscription: Subscription | undefined;
  let heartbeat: ReturnType<typeof setInterval> | undefined;
  let isOver = false;

  const stop = () => {
    isOver = true;
    clearInterval(heartbeat);
    subscription?.leave();
    signal.removeEventListener("abort", end);
  };
  const end = () => {
    if (isOver) return;
    stop();
    controller?.close();
  };
  const client: LiveClient = {
    reach,
    ready: () => !isOver && (controller?.desiredSize ?? 0) > 0,
    send: (seq, json) => controller?.enqueue(encoder.encode(`id: ${seq}\ndata: ${json}\n\n`)),
    end,
  };
  const body = new ReadableStream<Uint8Array>(
    {
      start: (given) => {
        controller = given;
        given.enqueue(encoder.encode("retry: 2000\n\n"));
      },
      pull: () => subscription?.resume(),
      cancel: stop,
    },
    new ByteLengthQueuingStrategy({ highWaterMark: ROOM }),
  );
  subscription = await hub.join(client, since);
  if (signal.aborted) {
    end();
    return body;
  }
  signal.addEventListener("abort", end);
  // A session runs out by time alone, which no commit tells of: it is asked again with each beat. A check that fails ends the stream.
  heartbeat = setInterval(() => {
    void reach
      .holds()
      .catch(() => false)
      .then((holds) => (holds ? subscription?.beat() : end()));
  }, HEARTBEAT);
  heartbeat.unref();
  return body;
}

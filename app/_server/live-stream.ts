import type { LiveClient, LiveHub, Subscription } from "./live.ts";

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
  heartbeat = setInterval(() => subscription?.beat(), HEARTBEAT);
  heartbeat.unref();
  return body;
}

/** From publishing to being seen: which readings of a stream were sent when, and how long each took to be shown. */

export const now = (): number => performance.timeOrigin + performance.now();

/** Publishes at a steady rate for a time: `send(n)` is called once a message, a few at each tick of the clock. */
export async function steadily(
  perSecond: number,
  seconds: number,
  send: (n: number) => void,
): Promise<number> {
  const began = performance.now();
  const total = Math.round(perSecond * seconds);
  let sent = 0;
  while (sent < total) {
    const due = Math.min(total, Math.floor(((performance.now() - began) / 1_000) * perSecond));
    while (sent < due) send(sent++);
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  return total;
}

export interface Arrivals {
  /** A reading of a stream, named by anything that rises with each of its readings. */
  sent(stream: string, order: number): void;
  /** What is shown of a stream now, and since when. A reading is seen as soon as it, or a newer one of its stream, is shown. */
  seen(stream: string, order: number, at: number): void;
  /** Milliseconds each reading took to be seen. */
  readonly delays: number[];
  waiting(): number;
  /** Streams with readings that were not seen yet. */
  streamsWaiting(): string[];
}

export function arrivals(): Arrivals {
  const onTheWay = new Map<string, { readonly order: number; readonly at: number }[]>();
  const delays: number[] = [];
  return {
    delays,
    sent(stream, order) {
      const queue = onTheWay.get(stream);
      if (queue) queue.push({ order, at: now() });
      else onTheWay.set(stream, [{ order, at: now() }]);
    },
    seen(stream, order, at) {
      const queue = onTheWay.get(stream);
      while (queue?.[0] && queue[0].order <= order) delays.push(at - (queue.shift() as { at: number }).at);
    },
    streamsWaiting: () => [...onTheWay].filter(([, queue]) => queue.length > 0).map(([stream]) => stream),
    waiting: () => [...onTheWay.values()].reduce((sum, queue) => sum + queue.length, 0),
  };
}

/** Waits until everything that was sent has been seen; after `mostMs` it gives up and says how much is missing. */
export async function allSeen(tracked: Arrivals, mostMs: number): Promise<number> {
  const until = performance.now() + mostMs;
  while (tracked.waiting() > 0 && performance.now() < until)
    await new Promise((resolve) => setTimeout(resolve, 20));
  return tracked.waiting();
}

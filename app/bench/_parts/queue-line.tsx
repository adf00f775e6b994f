"use client";

import css from "./bench.module.css";
import { many } from "./bench-words.ts";
import type { Waiting } from "./device-store.ts";
import { Later } from "./later.tsx";
import { loadQueueDetails } from "./parts-later.ts";
import type { Queue } from "./use-queue.ts";

/** One sentence on what waits, empty where nothing does. It stays the same while tries go on, so that it is read out once. */
function queueWords(queue: Queue, user: string, isOnline: boolean): string {
  const mine = queue.waiting.filter((one) => one.by === user && one.refused === null).length;
  if (mine === 0) return "";
  const what = `${many(mine, "test")} saved on this device, not yet sent`;
  if (queue.isSignedOut) return `${what}: sign in again to send`;
  return isOnline ? what : `${what}: no connection`;
}

/** What waits on this device, who it waits for, and what the server refused. Always said, also when it is nothing. */
export function QueueLine({
  queue,
  user,
  isOnline,
  onReopen,
}: {
  queue: Queue;
  user: string;
  isOnline: boolean;
  onReopen: (one: Waiting) => void;
}) {
  const words = queueWords(queue, user, isOnline);
  const mine = queue.waiting.filter((one) => one.by === user && one.refused === null).length;
  return (
    <section className={css.queue} aria-label="Tests on this device">
      <p role="status" className={words === "" ? css.soft : css.waits} data-queue={mine}>
        {words ||
          (isOnline
            ? "Everything on this device has been sent"
            : "No connection. What you save is kept on this device")}
        {queue.lasts === false &&
          ". This browser cannot keep anything: do not close the page until it is sent"}
      </p>
      {queue.waiting.length > 0 && (
        <Later load={loadQueueDetails}>
          {({ QueueDetails }) => <QueueDetails queue={queue} user={user} onReopen={onReopen} />}
        </Later>
      )}
    </section>
  );
}

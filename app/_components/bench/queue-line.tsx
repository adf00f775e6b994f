"use client";

import { Button, ButtonLink } from "../button.tsx";
import { clockOf } from "../time-words.ts";
import css from "./bench.module.css";
import { many } from "./bench-words.ts";
import type { Waiting } from "./kept.ts";
import type { Queue } from "./use-queue.ts";

/** One sentence on what waits, empty where nothing does. It stays the same while tries go on, so that it is read out once. */
export function queueWords(queue: Queue, user: string, isOnline: boolean): string {
  const mine = queue.waiting.filter((one) => one.by === user && one.refused === null).length;
  if (mine === 0) return "";
  const what = `${many(mine, "test")} waiting on this device, saved here, not yet sent`;
  if (queue.isSignedOut) return `${what}: sign in again and it goes on`;
  return isOnline ? what : `${what}: no network`;
}

function Refused({ one, onReopen }: { one: Waiting; onReopen: (one: Waiting) => void }) {
  return (
    <li className={css.refused}>
      <p>
        <b>{one.systemName}</b>, sampled {clockOf(one.zone).full(Date.parse(one.body.sampledAt))}: not stored,
        because {one.refused}
      </p>
      <Button onClick={() => onReopen(one)}>Open it again and change it</Button>
    </li>
  );
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
  const others = queue.waiting.filter((one) => one.by !== user);
  const refused = queue.waiting.filter((one) => one.by === user && one.refused !== null);
  const waiting = queue.waiting.filter((one) => one.by === user && one.refused === null);
  return (
    <section className={css.queue} aria-label="Tests on this device">
      <p role="status" className={words === "" ? css.soft : css.waits} data-queue={waiting.length}>
        {words || (isOnline ? "Everything on this device is sent" : "No network. What you save is kept here")}
        {queue.lasts === false &&
          ". This browser refuses to keep anything: do not close the page before it is sent"}
      </p>
      {waiting.length > 0 && (
        <>
          <ul className={css.plainList}>
            {waiting.map((one) => (
              <li key={one.clientId}>
                {one.systemName}, {many(one.body.results.length, "result")}, sampled{" "}
                {clockOf(one.zone).full(Date.parse(one.body.sampledAt))}
              </li>
            ))}
          </ul>
          {queue.isSignedOut ? (
            <ButtonLink href="/sign-in">Sign in again</ButtonLink>
          ) : (
            <Button busy={queue.isSending} onClick={queue.sendAll}>
              Send now
            </Button>
          )}
        </>
      )}
      {refused.length > 0 && (
        <ul className={css.plainList}>
          {refused.map((one) => (
            <Refused key={one.clientId} one={one} onReopen={onReopen} />
          ))}
        </ul>
      )}
      {others.length > 0 && (
        <p className={css.soft}>
          {many(others.length, "test")} of somebody else wait here until they sign in on this device.
        </p>
      )}
    </section>
  );
}

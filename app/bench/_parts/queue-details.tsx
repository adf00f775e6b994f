"use client";

import { Button, ButtonLink } from "#app/_components/controls/button.tsx";
import { clockOf } from "#core/time/zone-clock.ts";
import css from "./bench.module.css";
import { many } from "./bench-words.ts";
import type { Waiting } from "./device-store.ts";
import type { Queue } from "./use-queue.ts";

function Refused({ one, onReopen }: { one: Waiting; onReopen: (one: Waiting) => void }) {
  return (
    <li className={css.refused}>
      <p>
        <b>{one.systemName}</b>, sampled {clockOf(one.zone).full(Date.parse(one.body.sampledAt))}: not stored,
        because {one.refused}
      </p>
      <Button onClick={() => onReopen(one)}>Open and correct it</Button>
    </li>
  );
}

/** Each test that waits, what the server refused and what is somebody else's. */
export function QueueDetails({
  queue,
  user,
  onReopen,
}: {
  queue: Queue;
  user: string;
  onReopen: (one: Waiting) => void;
}) {
  const others = queue.waiting.filter((one) => one.by !== user);
  const refused = queue.waiting.filter((one) => one.by === user && one.refused !== null);
  const waiting = queue.waiting.filter((one) => one.by === user && one.refused === null);
  return (
    <>
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
          {many(others.length, "test")} by somebody else, kept until they sign in on this device.
        </p>
      )}
    </>
  );
}

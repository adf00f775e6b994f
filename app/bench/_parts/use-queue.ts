"use client";

import { useCallback, useEffect, useState } from "react";
import type { BenchAnswer } from "#contract/answers.ts";
import { type DeviceStore, kept, type Waiting } from "./device-store.ts";
import { hasText } from "./draft.ts";
import { type Posted, post } from "./send.ts";

/** While something waits it is tried again this often, for a network that comes back without saying so. */
const RETRY_MS = 15_000;
const LOCK = "homewater-bench-send";

export interface Queue {
  readonly waiting: readonly Waiting[];
  /** Null until the device's store has answered. */
  readonly lasts: boolean | null;
  readonly isSending: boolean;
  /** The last try found nobody signed in. */
  readonly isSignedOut: boolean;
  /** Answers of what was sent from here since the page was opened, by client id. */
  readonly answers: ReadonlyMap<string, BenchAnswer>;
  /** Puts a test into the queue and tries to send it at once. Rejects only where the device's store does. */
  save(waiting: Waiting): Promise<Posted<BenchAnswer>>;
  /** Makes a draft of it again. False where another draft of that system holds something: nothing is written over. */
  reopen(waiting: Waiting): Promise<boolean>;
  sendAll(): void;
}

/** One tab sends at a time; without locks two tabs may send the same test, which the server stores once. */
async function alone<T>(work: () => Promise<T>): Promise<T> {
  return "locks" in navigator ? await navigator.locks.request(LOCK, work) : await work();
}

/** Sends one; what is answered for good leaves the queue, or stands in it as refused. */
async function sendOne(store: DeviceStore, waiting: Waiting): Promise<Posted<BenchAnswer>> {
  const sent = await post<BenchAnswer>("/bench-tests", waiting.body);
  if (sent.kind === "done") await store.dropWaiting(waiting.clientId);
  if (sent.kind === "refused") await store.keepWaiting({ ...waiting, refused: sent.says });
  return sent;
}

/** The tests that wait on this device, and their way to the server. Only this person's own are sent. */
export function useQueue(user: string): Queue {
  const [waiting, setWaiting] = useState<readonly Waiting[]>([]);
  const [lasts, setLasts] = useState<boolean | null>(null);
  const [isSending, setSending] = useState(false);
  const [isSignedOut, setSignedOut] = useState(false);
  const [answers, setAnswers] = useState<ReadonlyMap<string, BenchAnswer>>(new Map());

  const look = useCallback(async () => {
    const store = await kept();
    setLasts(store.lasts);
    setWaiting(await store.readWaiting());
    return store;
  }, []);

  const hear = useCallback((clientId: string, sent: Posted<BenchAnswer>) => {
    setSignedOut(sent.kind === "signed out");
    if (sent.kind === "done") setAnswers((known) => new Map(known).set(clientId, sent.answer));
  }, []);

  const sendAll = useCallback(() => {
    const send = async () => {
      const store = await kept();
      for (const one of await store.readWaiting()) {
        if (one.by !== user || one.refused !== null) continue;
        const sent = await sendOne(store, one);
        hear(one.clientId, sent);
        if (sent.kind === "unreached" || sent.kind === "signed out") break;
      }
    };
    setSending(true);
    alone(send)
      .then(look)
      .catch((failed: unknown) => console.error("The queue of bench tests could not be read", failed))
      .finally(() => setSending(false));
  }, [user, look, hear]);

  useEffect(() => {
    sendAll();
    window.addEventListener("online", sendAll);
    return () => window.removeEventListener("online", sendAll);
  }, [sendAll]);
  const mine = waiting.some((one) => one.by === user && one.refused === null);
  useEffect(() => {
    if (!mine) return;
    const timer = setInterval(() => document.visibilityState === "visible" && sendAll(), RETRY_MS);
    return () => clearInterval(timer);
  }, [mine, sendAll]);

  const save = useCallback(
    async (one: Waiting) => {
      const store = await kept();
      await store.save(one);
      const sent = await alone(() => sendOne(store, one));
      hear(one.clientId, sent);
      await look();
      return sent;
    },
    [look, hear],
  );
  const reopen = useCallback(
    async (one: Waiting) => {
      const store = await kept();
      const other = await store.readDraft(one.by, one.draft.system);
      if (other !== null && hasText(other)) return false;
      await store.reopen(one);
      await look();
      return true;
    },
    [look],
  );
  return { waiting, lasts, isSending, isSignedOut, answers, save, reopen, sendAll };
}

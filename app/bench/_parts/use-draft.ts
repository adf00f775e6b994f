"use client";

import { useCallback, useEffect, useRef, useState } from "react";
import { newClientId } from "#app/_components/live/send.ts";
import { kept } from "./device-store.ts";
import { type Draft, hasText, type Typed } from "./draft.ts";

const EMPTY: Typed = { text: "", unit: "", method: "", answer: null };

export interface DraftHold {
  readonly draft: Draft;
  /** The device has answered what it holds. */
  readonly isReady: boolean;
  /** When what was found on this device was last changed; null where the form began empty. */
  readonly restoredAt: number | null;
  /** The device's store refused the last change. */
  readonly isUnkept: boolean;
  /** What "clear" took away, until something is typed again. */
  readonly cleared: Draft | null;
  type(quantity: string, change: Partial<Typed>): void;
  set(change: Partial<Pick<Draft, "point" | "sampledAt" | "added" | "note">>): void;
  clear(): void;
  undoClear(): void;
  /** After a save: an empty form with an id of its own. */
  renew(): void;
  /** Puts back what the server refused. */
  putBack(draft: Draft): void;
}

const fresh = (by: string, system: string, point: string): Draft => ({
  by,
  system,
  clientId: newClientId(),
  point,
  sampledAt: null,
  typed: {},
  added: [],
  note: "",
  changedAt: 0,
});

/** The form of one person at one system: kept on the device at every change, found again after a reload or a new sign-in. */
export function useDraft(by: string, system: string, point: string, clock: () => number): DraftHold {
  const [draft, setDraft] = useState(() => fresh(by, system, point));
  const [isReady, setReady] = useState(false);
  const [restoredAt, setRestoredAt] = useState<number | null>(null);
  const [isUnkept, setUnkept] = useState(false);
  const [cleared, setCleared] = useState<Draft | null>(null);
  const now = useRef(draft);
  const put = useCallback((next: Draft) => {
    now.current = next;
    setDraft(next);
  }, []);

  useEffect(() => {
    let isHere = true;
    const find = async () => {
      const found = await (await kept()).readDraft(by, system);
      // Typed faster than the device answered: what is on the screen stays.
      if (!isHere || found === null || hasText(now.current)) return;
      put(found);
      setRestoredAt(found.changedAt);
    };
    find()
      .catch((failed: unknown) => console.error("The draft could not be read", failed))
      .finally(() => isHere && setReady(true));
    return () => {
      isHere = false;
    };
  }, [by, system, put]);

  const keep = useCallback(
    (next: Draft) => {
      put(next);
      const work = async () => {
        const store = await kept();
        await (hasText(next) ? store.keepDraft(next) : store.dropDraft(by, system));
        setUnkept(!store.lasts && hasText(next));
      };
      work().catch((failed: unknown) => {
        console.error("The draft could not be kept", failed);
        setUnkept(true);
      });
    },
    [by, system, put],
  );

  const set = useCallback<DraftHold["set"]>(
    (change) => keep({ ...now.current, ...change, changedAt: clock() }),
    [keep, clock],
  );
  const type = useCallback<DraftHold["type"]>(
    (quantity, change) => {
      const before = now.current.typed[quantity] ?? EMPTY;
      const typed = { ...now.current.typed, [quantity]: { ...before, ...change } };
      // The first character fixes when the water was taken, unless somebody has said it.
      const sampledAt = now.current.sampledAt ?? (change.text ? clock() : null);
      setCleared(null);
      keep({ ...now.current, typed, sampledAt, changedAt: clock() });
    },
    [keep, clock],
  );
  const renew = useCallback(() => {
    setRestoredAt(null);
    put(fresh(by, system, now.current.point));
  }, [by, system, put]);
  return {
    draft,
    isReady,
    restoredAt,
    isUnkept,
    cleared,
    type,
    set,
    renew,
    clear: () => {
      setCleared(now.current);
      setRestoredAt(null);
      keep(fresh(by, system, now.current.point));
    },
    undoClear: () => {
      if (cleared) keep(cleared);
      setCleared(null);
    },
    putBack: keep,
  };
}

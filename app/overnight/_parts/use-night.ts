"use client";

import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import { read } from "#app/_components/live/send.ts";
import type { Live } from "#app/_components/live/use-live.ts";
import type { FindingView, OvernightView } from "#contract/views.ts";
import { asksFor, isUnacknowledged } from "#core/alarms/alarm.ts";

/** A finding as it is shown: the newest version of it, and whether it ended after the page was arranged. */
export interface Shown {
  readonly finding: FindingView;
  readonly hasEnded: boolean;
}

/** The feed leaves out alarms that are back to normal; that somebody answered one is still part of the night. */
function withAlarm(now: FindingView, before: FindingView): FindingView {
  if (now.alarm !== null || before.alarm === null) return now;
  return { ...now, alarm: { ...before.alarm, state: "NORMAL" } };
}

/** Findings of the night with what the live feed knows by now; and what came that the page does not show yet. */
export function mergeNight(
  night: OvernightView,
  open: readonly FindingView[],
): {
  readonly shown: ReadonlyMap<string, Shown>;
  readonly fresh: readonly FindingView[];
  readonly ended: number;
} {
  const newest = new Map(open.map((finding) => [finding.id, finding]));
  const shown = new Map<string, Shown>();
  let ended = 0;
  for (const finding of night.findings) {
    const now = newest.get(finding.id);
    const hasEnded = finding.ended === null && now === undefined;
    if (hasEnded) ended++;
    shown.set(finding.id, { finding: now === undefined ? finding : withAlarm(now, finding), hasEnded });
  }
  return { shown, fresh: open.filter((finding) => !shown.has(finding.id)), ended };
}

export const isUnanswered = ({ alarm }: FindingView): boolean =>
  alarm !== null && isUnacknowledged(alarm.state);

/** Acknowledged and past an action limit, and nobody has written down what was done. */
export const lacksResponse = ({ alarm, severity }: FindingView, { responded }: OvernightView): boolean =>
  alarm !== null &&
  asksFor(
    { state: alarm.state, severity: alarm.severity ?? severity },
    responded?.includes(alarm.id) ?? true,
  ) === "response";

const LOOK_MS = 10_000;
/** Nobody has touched the page for this long and it is scrolled to the top: then it may be sorted again by itself. */
const IDLE_MS = 60_000;
const AGAIN_MS = 5 * 60_000;

function useIdle(): () => boolean {
  const touched = useRef(0);
  useEffect(() => {
    const stop = new AbortController();
    const touch = () => {
      touched.current = performance.now();
    };
    touch();
    for (const event of ["pointermove", "pointerdown", "keydown", "wheel", "touchmove"])
      document.addEventListener(event, touch, { passive: true, signal: stop.signal });
    return () => stop.abort();
  }, []);
  return useCallback(
    () =>
      performance.now() - touched.current > IDLE_MS &&
      window.scrollY < 200 &&
      document.querySelector("dialog[open]") === null &&
      document.activeElement?.closest("main") == null,
    [],
  );
}

/**
 * The night, kept true without moving under the reader: texts and states change where they stand; what is new waits behind a button, and is
 * brought in by itself only where nobody is reading.
 */
export function useNight(initial: OvernightView, live: Live) {
  const [night, setNight] = useState(initial);
  const [failed, setFailed] = useState("");
  const arranged = useRef(0);
  const open = useMemo(() => live.view.systems.flatMap((system) => system.findings), [live.view.systems]);
  const merged = useMemo(() => mergeNight(night, open), [night, open]);
  const { from } = night;
  const refresh = useCallback(async () => {
    const answer = await read<OvernightView>(`/overnight?from=${from}`);
    arranged.current = performance.now();
    if (answer.ok) setNight(answer.value);
    setFailed(answer.ok ? "" : answer.says);
  }, [from]);
  const isIdle = useIdle();
  const changes = merged.fresh.length + merged.ended;
  useEffect(() => {
    const timer = setInterval(() => {
      const isOld = performance.now() - arranged.current > AGAIN_MS;
      if ((changes > 0 || isOld) && isIdle()) void refresh();
    }, LOOK_MS);
    return () => clearInterval(timer);
  }, [changes, isIdle, refresh]);
  return { night, ...merged, changes, failed, refresh };
}

/** What a screen reader is told of new findings, at most every ten seconds. */
export function useSaid(fresh: readonly FindingView[]): string {
  const [said, setSaid] = useState("");
  const latest = useRef(fresh);
  latest.current = fresh;
  useEffect(() => {
    const told = new Set<string>();
    const timer = setInterval(() => {
      const unheard = latest.current.filter((finding) => !told.has(finding.id));
      for (const finding of unheard) told.add(finding.id);
      const [first] = unheard;
      if (first === undefined) return;
      const more = unheard.length === 1 ? "" : ` And ${unheard.length - 1} more.`;
      setSaid(`New: ${first.systemName}, ${first.says}.${more}`);
    }, LOOK_MS);
    return () => clearInterval(timer);
  }, []);
  return said;
}

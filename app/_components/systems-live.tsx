"use client";

import { useEffect, useMemo, useRef, useState } from "react";
import type { Standing, SystemsView } from "../../lib/core/wire/views.ts";
import { announcement, hasNewAction, keepOrder } from "./live-merge.ts";
import { Rack } from "./rack.tsx";
import { countWords, worstFirst } from "./standing-words.ts";
import { StatusLine } from "./status-line.tsx";
import { Mark } from "./strip.tsx";
import css from "./systems-live.module.css";
import { clockOf } from "./time-words.ts";
import { Top } from "./top.tsx";
import { useLive } from "./use-live.ts";

/** Often enough to be true, seldom enough to be read: order and spoken summary change at most every ten seconds. */
const CALM_MS = 10_000;

/** The order of rows: moved at once for a new need of action, otherwise every ten seconds, never under a reader's focus. */
function useOrder(view: SystemsView) {
  const [order, setOrder] = useState(() => [...view.systems].sort(worstFirst).map((s) => s.system));
  const latest = useRef(view.systems);
  const before = useRef(new Map<string, Standing>());
  latest.current = view.systems;
  useEffect(() => {
    const urgent = before.current.size > 0 && hasNewAction(before.current, view.systems);
    before.current = new Map(view.systems.map((s) => [s.system, s.standing]));
    if (urgent) setOrder((held) => keepOrder(held, view.systems, true));
  }, [view.systems]);
  useEffect(() => {
    let pointed = Number.NEGATIVE_INFINITY;
    const point = () => {
      pointed = performance.now();
    };
    document.addEventListener("pointermove", point, { passive: true });
    const timer = setInterval(() => {
      // A row must not slip away under a finger that is about to press it; a mouse left lying there holds nothing.
      const isPointing =
        performance.now() - pointed < CALM_MS && document.querySelector("tbody:hover") !== null;
      const isReading = isPointing || document.activeElement?.closest("table") != null;
      if (!isReading) setOrder((held) => keepOrder(held, latest.current, true));
    }, CALM_MS);
    return () => {
      clearInterval(timer);
      document.removeEventListener("pointermove", point);
    };
  }, []);
  return useMemo(() => {
    const byCode = new Map(view.systems.map((s) => [s.system, s]));
    return keepOrder(order, view.systems, false).flatMap((code) => byCode.get(code) ?? []);
  }, [order, view.systems]);
}

/** What a screen reader is told: which systems changed their standing, at most every ten seconds. */
function useAnnouncement(view: SystemsView): string {
  const [text, setText] = useState("");
  const latest = useRef(view.systems);
  latest.current = view.systems;
  useEffect(() => {
    let before = new Map(latest.current.map((s) => [s.system, s.standing]));
    const timer = setInterval(() => {
      const said = announcement(before, latest.current);
      before = new Map(latest.current.map((s) => [s.system, s.standing]));
      if (said !== "") setText(said);
    }, CALM_MS);
    return () => clearInterval(timer);
  }, []);
  return text;
}

function Counts({ view }: { view: SystemsView }) {
  const n = view.systems.length;
  return (
    <p className={css.counts}>
      {n} {n === 1 ? "system" : "systems"}:{" "}
      {countWords(view.systems).map(({ standing, text }, i) => (
        <span key={standing}>
          {i > 0 && " · "}
          <span className={css[standing]}>{text}</span>
        </span>
      ))}
    </p>
  );
}

function Legend() {
  return (
    <p className={css.legend}>
      <span>
        <Mark seen="calm" /> in band
      </span>
      <span>
        <Mark seen="look" /> wants a look
      </span>
      <span>
        <Mark seen="action" /> needs action
      </span>
      <span>
        <Mark seen="doubtful" /> not known, or not to be believed
      </span>
      <span>
        shaded: target band · tick at an end: action limit · dots: no limit set · bar: since 18:00 · arrow: in
        two hours · dash above: plan
      </span>
    </p>
  );
}

function Nothing() {
  return (
    <div className={css.nothing}>
      <h2>No system has sent anything yet</h2>
      <p>
        Publish a first reading to the broker. A number is enough; the topic says what it is, and a system
        that is set up appears here as soon as it arrives.
      </p>
      <pre>homewater/&lt;site&gt;/&lt;system&gt;/&lt;point&gt;/&lt;quantity&gt;</pre>
      <p>
        For example <code>homewater/north/kelp-gallery/display/temperature</code> with payload{" "}
        <code>15.6</code>. To look around first, stop this and run <code>npm run demo</code>: it sets up a
        site that plays a night.
      </p>
    </div>
  );
}

/** The Systems page, kept up to date in place. */
export function SystemsLive({ initial, rejected }: { initial: SystemsView; rejected: number | null }) {
  const live = useLive(initial, rejected);
  const systems = useOrder(live.view);
  const said = useAnnouncement(live.view);
  return (
    <>
      <Top here="systems">
        <StatusLine live={live} />
      </Top>
      <main id="main" className={css.page}>
        <div className={css.title}>
          <h1>Systems</h1>
          {systems.length > 0 && <Counts view={live.view} />}
        </div>
        {systems.length > 0 ? (
          <>
            <Legend />
            <Rack systems={systems} clock={clockOf(live.view.zone)} minute={Math.floor(live.now / 60_000)} />
          </>
        ) : (
          <Nothing />
        )}
        <p className="unseen" aria-live="polite">
          {said}
        </p>
      </main>
    </>
  );
}

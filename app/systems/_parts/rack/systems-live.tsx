"use client";

import { type ReactNode, useEffect, useMemo, useRef, useState } from "react";
import { Top } from "#app/_components/frame/top.tsx";
import { announcement, hasNewAction, keepOrder } from "#app/_components/live/live-merge.ts";
import { StatusLine } from "#app/_components/live/status-line.tsx";
import { useLive } from "#app/_components/live/use-live.ts";
import { countWords } from "#app/_components/words/standing-words.ts";
import type { Standing, SystemState, SystemsView } from "#contract/views.ts";
import { worstFirst } from "#core/alarms/standing.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { Rack } from "./rack.tsx";
import { byLoop, byStanding, type Grouping } from "./rack-groups.ts";
import css from "./systems-live.module.css";

/** Often enough to be true, seldom enough to be read: order and spoken summary change at most every ten seconds. */
const CALM_MS = 10_000;

interface Held {
  readonly order: readonly string[];
  /** How each stood when the order was made. */
  readonly standing: ReadonlyMap<string, Standing>;
}
const standings = (systems: readonly SystemState[]) => new Map(systems.map((s) => [s.system, s.standing]));
const sorted = (systems: readonly SystemState[]): Held => ({
  order: [...systems].sort(worstFirst).map((s) => s.system),
  standing: standings(systems),
});

/** The order of rows: moved at once for a new need of action, otherwise every ten seconds, never under a reader's focus. */
function useOrder(view: SystemsView) {
  const [held, setHeld] = useState(() => sorted(view.systems));
  const latest = useRef(view.systems);
  const before = useRef(new Map<string, Standing>());
  latest.current = view.systems;
  useEffect(() => {
    const urgent = before.current.size > 0 && hasNewAction(before.current, view.systems);
    before.current = standings(view.systems);
    if (urgent) setHeld(sorted(view.systems));
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
      if (!isReading) setHeld(sorted(latest.current));
    }, CALM_MS);
    return () => {
      clearInterval(timer);
      document.removeEventListener("pointermove", point);
    };
  }, []);
  return useMemo(() => {
    const byCode = new Map(view.systems.map((s) => [s.system, s]));
    const systems = keepOrder(held.order, view.systems, false).flatMap((code) => byCode.get(code) ?? []);
    return { systems, standing: held.standing };
  }, [held, view.systems]);
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

const GROUPINGS: readonly { readonly id: Grouping; readonly label: string; readonly path: string }[] = [
  { id: "standing", label: "worst first", path: "/systems" },
  { id: "loop", label: "by loop", path: "/systems?by=loop" },
];

function GroupingLinks({ by, onChoose }: { by: Grouping; onChoose: (by: Grouping) => void }) {
  return (
    <nav aria-label="Order of the systems" className={`${css.by} no-print`}>
      {GROUPINGS.map(({ id, label, path }) => (
        <a
          key={id}
          href={path}
          aria-current={id === by ? "true" : undefined}
          onClick={(event) => {
            if (event.metaKey || event.ctrlKey || event.shiftKey) return;
            event.preventDefault();
            window.history.replaceState(null, "", path);
            onChoose(id);
          }}
        >
          {label}
        </a>
      ))}
    </nav>
  );
}

/** The Systems page, kept up to date in place. */
export function SystemsLive({
  initial,
  rejected,
  by: first,
  legend,
  nothing,
}: {
  readonly initial: SystemsView;
  readonly rejected: number | null;
  readonly by: Grouping;
  /** Words that never change are drawn by the server and need no script. */
  readonly legend: ReactNode;
  readonly nothing: ReactNode;
}) {
  const live = useLive(initial, rejected);
  const [by, setBy] = useState(first);
  const { systems, standing } = useOrder(live.view);
  const groups = useMemo(
    () => (by === "loop" ? byLoop(systems) : byStanding(systems, standing)),
    [by, systems, standing],
  );
  const hasLoops = systems.some((s) => s.loops.length > 0);
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
          {hasLoops && <GroupingLinks by={by} onChoose={setBy} />}
        </div>
        {systems.length > 0 ? (
          <>
            {legend}
            <Rack groups={groups} clock={clockOf(live.view.zone)} minute={Math.floor(live.now / 60_000)} />
          </>
        ) : (
          nothing
        )}
        <p className="unseen" aria-live="polite">
          {said}
        </p>
      </main>
    </>
  );
}

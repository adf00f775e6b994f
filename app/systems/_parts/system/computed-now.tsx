"use client";

import { useEffect, useState } from "react";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { DerivedNowView } from "#contract/working-views.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { intervalText, resultText } from "#core/units/bound-text.ts";
import { beside } from "#core/units/number-text.ts";
import css from "./computed-now.module.css";
import { Working } from "./working.tsx";

const AGAIN_MS = 60_000;

type Value = DerivedNowView["values"][number];

function valueText({ value, low, high, mark, decimals, unitLabel }: Value): string {
  if (value === null) return "not known";
  const text = resultText(value, mark === null ? "=" : mark === "below" ? "<" : ">", decimals);
  const interval = intervalText(low, high, decimals);
  return `${beside(text, unitLabel)}${interval === "" ? "" : ` (${interval})`}`;
}

/** What is computed from a system's readings, each number with its interval and its working. Read once a minute while the page is seen. */
export function ComputedNow({
  system,
  clock,
  now,
}: {
  readonly system: string;
  readonly clock: ZoneClock;
  readonly now: number;
}) {
  const [view, setView] = useState<DerivedNowView | null>(null);
  const [why, setWhy] = useState<string | null>(null);
  useEffect(() => {
    const stop = new AbortController();
    const read = async () => {
      if (document.visibilityState === "hidden") return;
      try {
        const answer = await fetch(`/api/v1/systems/${encodeURIComponent(system)}/derived`, {
          signal: stop.signal,
        });
        if (!answer.ok) throw new Error(`the server answered ${answer.status}`);
        setView((await answer.json()) as DerivedNowView);
        setWhy(null);
      } catch (failed) {
        if (!stop.signal.aborted) setWhy(failed instanceof Error ? failed.message : "no answer");
      }
    };
    void read();
    const timer = setInterval(read, AGAIN_MS);
    document.addEventListener("visibilitychange", read);
    return () => {
      stop.abort();
      clearInterval(timer);
      document.removeEventListener("visibilitychange", read);
    };
  }, [system]);
  if (view !== null && view.values.length === 0) return null;
  return (
    <section
      aria-labelledby="computed-now"
      className={css.computed}
      aria-busy={view === null && why === null}
    >
      <h2 id="computed-now">Computed values</h2>
      {why !== null && (
        <p role="status" className={css.faint}>
          {view === null ? "Computed values could not be loaded" : "Not updated"}: {why}.
        </p>
      )}
      {view === null && why === null && <p className={css.faint}>Loading ...</p>}
      {view !== null && (
        <ul>
          {view.values.map((value) => (
            <li
              key={`${value.quantity} ${value.point}`}
              data-computed={value.quantity}
              data-point={value.point}
            >
              <span className={css.name}>
                {value.label}
                {value.point !== "display" && <small> {pointWords(value.point)}</small>}
              </span>
              <span className={value.value === null ? css.faint : css.value}>{valueText(value)}</span>
              <span className={css.faint}>
                {value.status === "extrapolated" && "outside the published range; "}
                {value.value === null ? value.note : value.at !== null && clock.near(value.at, now)}
              </span>
              <Working
                system={system}
                quantity={value.quantity}
                point={value.point}
                label={value.point === "display" ? value.label : `${value.label}, ${pointWords(value.point)}`}
                clock={clock}
              />
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

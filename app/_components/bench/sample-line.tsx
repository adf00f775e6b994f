"use client";

import { useId, useState } from "react";
import { pointWords } from "../stream-words.ts";
import { clockOf } from "../time-words.ts";
import css from "./bench.module.css";
import { instantsOf, wallOf } from "./site-wall.ts";

/** Where and when the water was taken: now and the display unless somebody says otherwise. */
export function SampleLine({
  point,
  points,
  sampledAt,
  now,
  zone,
  onPoint,
  onSampledAt,
}: {
  point: string;
  points: readonly string[];
  /** Null: now. */
  sampledAt: number | null;
  now: number;
  zone: string;
  onPoint: (point: string) => void;
  onSampledAt: (at: number | null) => void;
}) {
  const id = useId();
  const [isOpen, setOpen] = useState(false);
  const [wall, setWall] = useState("");
  const clock = clockOf(zone);
  const shown = sampledAt ?? now;
  const found = wall === "" ? null : instantsOf(wall, zone);
  const isAhead = found?.[0] !== undefined && found[0] > now + 60_000;
  const choose = (next: string) => {
    setWall(next);
    const [at, other] = instantsOf(next, zone);
    if (at !== undefined && other === undefined && at <= now + 60_000) onSampledAt(at);
  };
  const wrong = isAhead
    ? "That lies in the future: say when the water was taken."
    : found !== null && found.length === 0
      ? `The clock at the site (${zone}) never shows that time: give another one.`
      : "";
  return (
    <div className={css.sample}>
      <p className={css.sampleLine}>
        <span>
          {pointWords(point)}, sampled {sampledAt === null ? "now, " : ""}
          <time dateTime={new Date(shown).toISOString()} title={zone} suppressHydrationWarning>
            {`${clock.dayClock(shown)} ${clock.name(shown)}`}
          </time>
        </span>
        <button
          type="button"
          className={css.asLink}
          aria-expanded={isOpen}
          onClick={() => {
            setWall(wallOf(shown, zone));
            setOpen(!isOpen);
          }}
        >
          {isOpen ? "done" : "change"}
          <span className="unseen"> where and when the water was taken</span>
        </button>
      </p>
      {isOpen && (
        <div className={css.when}>
          {points.length > 1 && (
            <>
              <label htmlFor={`${id}-point`}>Water taken at the point</label>
              <select id={`${id}-point`} value={point} onChange={(event) => onPoint(event.target.value)}>
                {points.map((one) => (
                  <option key={one} value={one}>
                    {pointWords(one)}
                  </option>
                ))}
              </select>
            </>
          )}
          <label htmlFor={id}>at site time ({clock.name(shown)})</label>
          <input
            id={id}
            type="datetime-local"
            value={wall}
            max={wallOf(now, zone)}
            aria-invalid={wrong !== ""}
            aria-describedby={`${id}-wrong`}
            onChange={(event) => choose(event.target.value)}
          />
          <button type="button" className={css.asLink} onClick={() => choose(wallOf(now, zone))}>
            now
          </button>
          <div id={`${id}-wrong`} role="alert">
            {wrong}
          </div>
          {found !== null && found.length === 2 && (
            <fieldset className={css.twice}>
              <legend>The clocks went back: that time comes twice. Which one?</legend>
              {found.map((at, i) => (
                <label key={at}>
                  <input
                    type="radio"
                    name={`${id}-twice`}
                    checked={sampledAt === at}
                    onChange={() => onSampledAt(at)}
                  />{" "}
                  the {i === 0 ? "first" : "second"}, {clock.name(at)}
                </label>
              ))}
            </fieldset>
          )}
        </div>
      )}
    </div>
  );
}

"use client";

import { useId, useState } from "react";
import { Press } from "#app/_components/controls/press.tsx";
import { pointWords } from "#app/_components/words/point-words.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import css from "./bench.module.css";
import { instantsOf, wallOf } from "./site-wall.ts";

export interface SampleProps {
  readonly point: string;
  readonly points: readonly string[];
  /** Null: now. */
  readonly sampledAt: number | null;
  readonly now: number;
  readonly zone: string;
  readonly onPoint: (point: string) => void;
  readonly onSampledAt: (at: number | null) => void;
}

/** Another point, another time: of the clock at the site, and asked about in the hour that comes twice. */
export function SampleEditor({ point, points, sampledAt, now, zone, onPoint, onSampledAt }: SampleProps) {
  const id = useId();
  const clock = clockOf(zone);
  const shown = sampledAt ?? now;
  const [wall, setWall] = useState(() => wallOf(shown, zone));
  const found = instantsOf(wall, zone);
  const isAhead = found[0] !== undefined && found[0] > now + 60_000;
  const isTwice = found.length === 2;
  const choose = (next: string) => {
    setWall(next);
    const [at, other] = instantsOf(next, zone);
    if (at !== undefined && other === undefined && at <= now + 60_000) onSampledAt(at);
  };
  const wrongOf = (): string => {
    if (isAhead) return "That is in the future: enter when the sample was taken.";
    if (found.length === 0)
      return `The clock at the site (${zone}) never shows that time: enter another one.`;
    if (isTwice && !found.includes(shown)) return `Choose below; until then it stays ${clock.full(shown)}.`;
    return "";
  };
  const wrong = wrongOf();
  return (
    <div className={css.when}>
      {points.length > 1 && (
        <>
          <label htmlFor={`${id}-point`}>Sampled at point</label>
          <select id={`${id}-point`} value={point} onChange={(event) => onPoint(event.target.value)}>
            {points.map((one) => (
              <option key={one} value={one}>
                {pointWords(one)}
              </option>
            ))}
          </select>
        </>
      )}
      <label htmlFor={id}>Sampled at, site time ({clock.name(shown)})</label>
      <input
        id={id}
        type="datetime-local"
        value={wall}
        max={wallOf(now, zone)}
        aria-invalid={wrong !== ""}
        aria-describedby={`${id}-wrong`}
        onChange={(event) => choose(event.target.value)}
      />
      <Press className={css.asLink} onClick={() => choose(wallOf(now, zone))}>
        now
      </Press>
      <div id={`${id}-wrong`} role="alert">
        {wrong}
      </div>
      {isTwice && (
        <fieldset className={css.twice}>
          <legend>The clocks went back: that time occurs twice. Which one?</legend>
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
  );
}

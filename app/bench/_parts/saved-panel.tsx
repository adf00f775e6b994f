"use client";

import { useEffect, useRef } from "react";
import { Button, ButtonLink } from "#app/_components/controls/button.tsx";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { BenchAnswer } from "#contract/answers.ts";
import type { BenchWaterView } from "#contract/bench-water.ts";
import type { BandEdges } from "#core/habitat/band.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { AmmoniaSaid } from "./ammonia-line.tsx";
import css from "./bench.module.css";
import { many, type UnitLabel } from "./bench-words.ts";
import type { Waiting } from "./device-store.ts";
import own from "./stored.module.css";
import { StoredResult } from "./stored-result.tsx";

/** After saving: what is stored, or what is kept here and not sent yet, stated plainly. */
export function SavedPanel({
  saved,
  answer,
  label,
  ammoniaBand,
  water,
  now,
  zone,
  labelOf,
  onAnother,
  onChanged,
}: {
  saved: Waiting;
  /** Null while it waits. */
  answer: BenchAnswer | null;
  label: UnitLabel;
  ammoniaBand: BandEdges | null;
  water: BenchWaterView["water"];
  now: number;
  zone: string;
  labelOf: (quantity: string) => string;
  onAnother: () => void;
  onChanged: NonNullable<Parameters<typeof StoredResult>[0]["onChanged"]>;
}) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  const clock = clockOf(zone);
  const { results } = saved.body;
  const sampled = `${pointWords(saved.body.point)}, sampled ${clock.full(Date.parse(saved.body.sampledAt))}`;
  return (
    <section
      className={own.saved}
      aria-labelledby="saved-title"
      data-saved={answer === null ? "here" : "stored"}
    >
      <h2 id="saved-title" ref={heading} tabIndex={-1}>
        {answer === null
          ? `Saved on this device, not yet sent: ${many(results.length, "result")}`
          : `Stored: ${many(answer.results.length, "result")}`}
      </h2>
      <p className={css.soft}>
        {sampled}
        {answer !== null && `, stored ${clock.near(answer.received, now)} by ${answer.analyst}`}
        {answer?.note != null && `. Note: ${answer.note}`}
      </p>
      {answer === null ? (
        <ul className={css.plainList}>
          {results.map((one) => (
            <li key={one.quantity}>
              <b>{labelOf(one.quantity)}</b> {String(one.value)} {label(one.unit)}
            </li>
          ))}
        </ul>
      ) : (
        <>
          <ul className={css.plainList}>
            {answer.results.map((row) => (
              <StoredResult key={row.id} first={row} label={label} onChanged={onChanged} />
            ))}
          </ul>
          {answer.unionisedAmmonia !== null && (
            <AmmoniaSaid
              answer={answer.unionisedAmmonia}
              band={ammoniaBand}
              water={water}
              now={now}
              zone={zone}
            />
          )}
          {answer.questions.map(({ code, field, says }) => (
            <p key={`${code} ${field}`} className={css.soft}>
              {says}
            </p>
          ))}
        </>
      )}
      <p className={css.buttons}>
        <Button kind="main" onClick={onAnother}>
          Another test here
        </Button>
        <ButtonLink href="/bench">Another system</ButtonLink>
      </p>
    </section>
  );
}

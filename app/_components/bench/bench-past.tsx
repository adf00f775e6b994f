"use client";

import { useState } from "react";
import { answerIn } from "../../../lib/core/bench/ask.ts";
import type { FieldHere } from "../../../lib/core/bench/form-view.ts";
import { pointWords } from "../stream-words.ts";
import { clockOf } from "../time-words.ts";
import css from "./bench.module.css";
import { StoredResult, typedWords, type UnitLabel } from "./stored-result.tsx";

/** Results that somebody was not sure of, until a newer one of the same quantity and point stands. */
export function TestAgain({
  here,
  now,
  zone,
  label,
  onGo,
}: {
  here: readonly FieldHere[];
  now: number;
  zone: string;
  label: UnitLabel;
  onGo: (row: FieldHere) => void;
}) {
  const open = here.flatMap((row) => {
    const [newest] = row.last;
    return newest && answerIn(newest.reason) === "again" ? [{ row, newest }] : [];
  });
  if (open.length === 0) return null;
  const clock = clockOf(zone);
  return (
    <section className={css.again} aria-labelledby="again-title" data-again={open.length}>
      <h2 id="again-title">Test again</h2>
      {open.map(({ row, newest }) => (
        <p key={newest.id}>
          {row.field.label}
          {row.point === "display" ? "" : `, ${pointWords(row.point)}`}: {typedWords(newest, label)},{" "}
          {clock.near(newest.sampledAt, now)}, {newest.analyst} was not sure{" "}
          <button type="button" className={css.asLink} onClick={() => onGo(row)}>
            type the new result
          </button>
        </p>
      ))}
    </section>
  );
}

/** The newest results here, to be corrected or voided; what is changed stays in sight until the page is left. */
export function EarlierResults({
  here,
  now,
  zone,
  label,
  onChanged,
}: {
  here: readonly FieldHere[];
  now: number;
  zone: string;
  label: UnitLabel;
  onChanged: Parameters<typeof StoredResult>[0]["onChanged"];
}) {
  const [isOpen, setOpen] = useState(false);
  // As they were when this was opened: a correction must not take the struck-through value out of sight.
  const [shown, setShown] = useState(here);
  const clock = clockOf(zone);
  const rows = shown.filter(({ last }) => last.length > 0);
  if (!isOpen && here.every(({ last }) => last.length === 0)) return null;
  return (
    <details
      className={css.earlier}
      onToggle={(event) => {
        if (event.currentTarget.open) setShown(here);
        setOpen(event.currentTarget.open);
      }}
    >
      <summary>Earlier results here, to correct one</summary>
      {isOpen && (
        <ul className={css.plainList}>
          {rows.flatMap(({ point, last }) =>
            last.map((one) => (
              <StoredResult
                key={one.id}
                first={one}
                label={label}
                aside={
                  <small className={css.soft}>
                    {pointWords(point)}, sampled {clock.near(one.sampledAt, now)}, {one.analyst}
                  </small>
                }
                {...(onChanged ? { onChanged } : {})}
              />
            )),
          )}
        </ul>
      )}
    </details>
  );
}

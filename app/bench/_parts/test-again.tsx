"use client";

import { Press } from "#app/_components/controls/press.tsx";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { FieldHere } from "#contract/bench-form-view.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import css from "./bench.module.css";
import { typedWords, type UnitLabel } from "./bench-words.ts";

/** Results that somebody was not sure of, until a newer one of the same quantity and point stands. */
export function TestAgain({
  here,
  now,
  zone,
  label,
  onGo,
}: {
  /** Those whose newest result is doubted. */
  here: readonly FieldHere[];
  now: number;
  zone: string;
  label: UnitLabel;
  onGo: (row: FieldHere) => void;
}) {
  const open = here.flatMap((row) => row.last.slice(0, 1).map((newest) => ({ row, newest })));
  const clock = clockOf(zone);
  return (
    <section className={css.again} aria-labelledby="again-title" data-again={open.length}>
      <h2 id="again-title">Test again</h2>
      {open.map(({ row, newest }) => (
        <p key={newest.id}>
          {row.field.label}
          {row.point === "display" ? "" : `, ${pointWords(row.point)}`}: {typedWords(newest, label)},{" "}
          {clock.near(newest.sampledAt, now)}, {newest.analyst} was not sure{" "}
          <Press className={css.asLink} onClick={() => onGo(row)}>
            type the new result
          </Press>
        </p>
      ))}
    </section>
  );
}

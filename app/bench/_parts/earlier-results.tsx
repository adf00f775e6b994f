"use client";

import { useState } from "react";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { FieldHere } from "#contract/bench-form-view.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import css from "./bench.module.css";
import type { UnitLabel } from "./bench-words.ts";
import { StoredResult } from "./stored-result.tsx";

/** The newest results here, to be corrected or voided; what is changed stays in sight, because they are kept as they were when this was opened. */
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
  onChanged: NonNullable<Parameters<typeof StoredResult>[0]["onChanged"]>;
}) {
  const [shown] = useState(here);
  const clock = clockOf(zone);
  return (
    <ul className={css.plainList}>
      {shown.flatMap(({ point, last }) =>
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
            onChanged={onChanged}
          />
        )),
      )}
    </ul>
  );
}

"use client";

import { useState } from "react";
import { Field } from "#app/_components/controls/field.tsx";
import { needed } from "#app/_components/controls/form-dialog.tsx";
import { instantOfWall, wallText } from "#app/_components/controls/wall-input.ts";

/** A moment by the site's clock. */
export function Moment({
  zone,
  value,
  wrong,
  label = "When",
  hint = `${zone} time. Bands and findings apply from then on`,
  onChange,
}: {
  readonly zone: string;
  readonly value: string;
  readonly wrong: string;
  readonly label?: string;
  readonly hint?: string;
  readonly onChange: (value: string) => void;
}) {
  return (
    <Field label={label} hint={hint} wrong={wrong}>
      {(links) => (
        <input {...links} type="datetime-local" value={value} onChange={(e) => onChange(e.target.value)} />
      )}
    </Field>
  );
}

/** From when a change holds, now to begin with. `sent` is null while what is typed is no time. */
export function useFrom(now: number, zone: string) {
  const [shownNow] = useState(wallText(now, zone));
  const [from, setFrom] = useState(shownNow);
  const at = instantOfWall(from, zone);
  // Left as it stands it means this moment, not the minute's beginning: somebody may have moved in since.
  const sent = at === null ? null : from === shownNow ? {} : { from: at };
  return { from, setFrom, sent };
}

/** Why something is changed. */
export function ReasonField({
  value,
  asked,
  wrong,
  hint = "",
  onChange,
}: {
  readonly value: string;
  /** It has been submitted once. */
  readonly asked: boolean;
  readonly wrong: string;
  readonly hint?: string;
  readonly onChange: (value: string) => void;
}) {
  return (
    <Field label="Reason" hint={hint} wrong={needed(value, asked) || wrong}>
      {(links) => <textarea {...links} value={value} onChange={(e) => onChange(e.target.value)} />}
    </Field>
  );
}

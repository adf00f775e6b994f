"use client";

import { Press } from "#app/_components/controls/press.tsx";
import css from "./pad.module.css";
import type { PadKey } from "./pad-keys.ts";

const ROWS: readonly (readonly PadKey[])[] = [
  ["7", "8", "9", "⌫"],
  ["4", "5", "6", "<"],
  ["1", "2", "3", ">"],
];
const NAMES: Partial<Record<PadKey, string>> = {
  "⌫": "delete",
  "<": "less than",
  ">": "more than",
  "±": "minus sign",
  ".": "point",
};

function Key({ name, onKey }: { name: PadKey; onKey: (key: PadKey) => void }) {
  return (
    <Press
      aria-label={NAMES[name]}
      data-key={name}
      // The field keeps the focus, so that its text stays selected where it was.
      onPointerDown={(event) => event.preventDefault()}
      onClick={() => onKey(name)}
    >
      {name}
    </Press>
  );
}

/** Keys for wet gloves: 56 px and more, one hand, in the field that has the focus. */
export function NumberPad({
  signed,
  onKey,
  onNote,
  onNext,
}: {
  signed: boolean;
  onKey: (key: PadKey) => void;
  onNote: () => void;
  onNext: () => void;
}) {
  return (
    <fieldset className={css.pad}>
      <legend className="unseen">Number pad</legend>
      {ROWS.flat().map((name) => (
        <Key key={name} name={name} onKey={onKey} />
      ))}
      {signed ? (
        <Key name="±" onKey={onKey} />
      ) : (
        <Press className={css.word} onClick={onNote}>
          note
        </Press>
      )}
      <Key name="0" onKey={onKey} />
      <Key name="." onKey={onKey} />
      <Press className={css.next} onPointerDown={(event) => event.preventDefault()} onClick={onNext}>
        next
      </Press>
    </fieldset>
  );
}

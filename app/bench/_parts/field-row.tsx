"use client";

import { type KeyboardEvent, useEffect, useId, useState } from "react";
import { classes } from "#app/_components/controls/classes.ts";
import { Press } from "#app/_components/controls/press.tsx";
import { Mark } from "#app/_components/strip/mark.tsx";
import type { FieldHere } from "#contract/bench-form-view.ts";
import type { Answer } from "#core/bench/answer.ts";
import { ageText } from "#core/time/age-text.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { bandLine, lastText, STAND_WORDS } from "./bench-words.ts";
import { type Examined, type Typed, unitOf } from "./draft.ts";
import css from "./field.module.css";
import { Later } from "./later.tsx";
import { loadQuestion, loadTypedStrip } from "./parts-later.ts";

/** After this long nobody is still typing: the field is checked. */
const PAUSE_MS = 1_200;
function Last({
  row,
  typed,
  now,
  zone,
}: {
  row: FieldHere;
  typed: Typed | undefined;
  now: number;
  zone: string;
}) {
  const unit = unitOf(row.field, typed);
  if (row.last.length === 0) return <p className={css.last}>no results here yet</p>;
  return (
    <ul className={css.last} aria-label={`Last results of ${row.field.label}, newest first`}>
      {row.last.map((one) => (
        <li key={one.id}>
          {lastText(one, unit)}{" "}
          <span title={clockOf(zone).full(one.sampledAt)}>{ageText(now - one.sampledAt)} ago</span>
        </li>
      ))}
    </ul>
  );
}

export interface FieldRowProps {
  readonly row: FieldHere;
  readonly typed: Typed | undefined;
  readonly examined: Examined;
  /** What the server said against it, empty where nothing. */
  readonly refused: string;
  readonly isActive: boolean;
  readonly isChecked: boolean;
  readonly hasPad: boolean;
  /** On its way: nothing can be typed meanwhile. */
  readonly isSaving: boolean;
  readonly now: number;
  readonly zone: string;
  /** Keeps the element, so that the form can move the focus. */
  readonly hold: (input: HTMLInputElement | null) => void;
  readonly onType: (change: Partial<Typed>) => void;
  readonly onCheck: () => void;
  readonly onFocus: () => void;
  readonly onStep: (way: 1 | -1) => void;
  readonly onAnswer: (answer: Answer | "change" | null) => void;
  readonly onMethod: (method: string) => void;
  readonly onUnit: (unit: string) => void;
  readonly children?: React.ReactNode;
}

/** One quantity: what it was, what it should be, what is typed, and at once anything odd about it. */
export function FieldRow({
  row,
  typed,
  examined,
  refused,
  isActive,
  isChecked,
  hasPad,
  isSaving,
  now,
  zone,
  hold,
  onType,
  onCheck,
  onFocus,
  onStep,
  onAnswer,
  onMethod,
  onUnit,
  children,
}: FieldRowProps) {
  const id = useId();
  const { field, band } = row;
  const unit = unitOf(field, typed);
  const text = typed?.text ?? "";
  const [methodOpen, setMethodOpen] = useState(false);

  useEffect(() => {
    if (isChecked || text === "") return;
    const timer = setTimeout(onCheck, PAUSE_MS);
    return () => clearTimeout(timer);
  }, [text, isChecked, onCheck]);

  const keyDown = (event: KeyboardEvent) => {
    // Left by key it is checked here; left by a finger after the pause, so that nothing moves under the finger.
    if (event.key === "Tab" && text !== "") onCheck();
    if (event.key !== "Enter" || event.nativeEvent.isComposing) return;
    event.preventDefault();
    onStep(event.shiftKey ? -1 : 1);
  };
  const fault = isChecked && examined.kind === "fault" ? examined.fault : null;
  const wrong = fault === null ? refused : `${fault.says}: ${fault.remedy}`;
  const read = examined.kind === "read" ? examined : null;
  const asked = isChecked ? (read?.asked ?? null) : null;
  const line = bandLine(band, unit);
  const shown = `${text.trim()}${unit.label === "" ? "" : ` ${unit.label}`}`;
  const tone = read?.seen === "look" || read?.seen === "action" ? css[read.seen] : "";
  return (
    <li
      className={css.row}
      data-active={isActive}
      data-quantity={field.quantity}
      data-filled={text !== ""}
      data-asks={asked !== null && (typed?.answer ?? null) === null}
    >
      <div className={css.name}>
        <label htmlFor={id}>{field.label}</label>
        <Last row={row} typed={typed} now={now} zone={zone} />
      </div>
      <div className={css.entry}>
        <input
          ref={hold}
          id={id}
          type="text"
          inputMode={hasPad ? "none" : "decimal"}
          enterKeyHint="next"
          autoComplete="off"
          spellCheck={false}
          value={text}
          readOnly={isSaving}
          aria-invalid={wrong !== ""}
          aria-describedby={`${id}-unit ${id}-band ${id}-says`}
          onChange={(event) => onType({ text: event.target.value, answer: null })}
          onKeyDown={keyDown}
          onFocus={onFocus}
        />
        {field.units.length > 1 ? (
          <select
            aria-label={`Unit of ${field.label}`}
            value={unit.typed}
            onChange={(event) => onUnit(event.target.value)}
          >
            {field.units.map((one) => (
              <option key={one.typed} value={one.typed}>
                {one.label}
              </option>
            ))}
          </select>
        ) : (
          <span className={css.unit}>{unit.label || "no unit"}</span>
        )}
        <span id={`${id}-unit`} className="unseen">
          {unit.label === "" ? "" : `in ${unit.label}`}
        </span>
      </div>
      <p id={`${id}-band`} className={classes(css.band, tone)}>
        {read?.seen != null && (
          <>
            <Mark seen={read.seen} /> {STAND_WORDS[read.seen]}
            {" · "}
          </>
        )}
        {line ?? "no band set"}
        {read !== null && (
          <span className={css.strip} aria-hidden="true">
            <Later load={loadTypedStrip}>{({ TypedStrip }) => <TypedStrip row={row} read={read} />}</Later>
          </span>
        )}
      </p>
      <div id={`${id}-says`} className={css.says} role="status">
        {wrong !== "" && (
          <p className={css.fault}>
            {field.label} {wrong}
          </p>
        )}
      </div>
      {asked !== null && (
        <Later load={loadQuestion} missing={<p className={css.answered}>{asked.says}</p>}>
          {({ Question }) => (
            <Question
              asked={asked}
              answer={typed?.answer ?? null}
              shown={shown}
              onAnswer={onAnswer}
              onOther={onUnit}
            />
          )}
        </Later>
      )}
      {read !== null && children}
      <div className={css.method}>
        {methodOpen || (typed?.method ?? "") !== "" ? (
          <label>
            Method or kit
            <input
              type="text"
              maxLength={100}
              value={typed?.method ?? ""}
              autoComplete="off"
              onChange={(event) => onMethod(event.target.value)}
            />
          </label>
        ) : (
          <Press className={css.plain} onClick={() => setMethodOpen(true)}>
            add the method
            <span className="unseen"> of {field.label}</span>
          </Press>
        )}
      </div>
    </li>
  );
}

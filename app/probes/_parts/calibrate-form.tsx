"use client";

import { useState } from "react";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog } from "#app/_components/controls/form-dialog.tsx";
import form from "#app/_components/controls/forms.module.css";
import { numberOf } from "#app/_components/controls/typed-number.ts";
import { instantOfWall, wallText } from "#app/_components/controls/wall-input.ts";
import css from "#app/_components/drawing/probes.module.css";
import { newClientId } from "#app/_components/live/send.ts";
import type { CalibrationAnswer, ProbeRow } from "#contract/probes.ts";
import { nameOf } from "./probe-name.ts";

const KINDS = [
  ["calibration", "Calibrated"],
  ["cleaning", "Cleaned"],
  ["replacement", "Replaced"],
] as const;
type Kind = (typeof KINDS)[number][0];
const HALF_HOUR = 30 * 60_000;

interface Draft {
  readonly kind: Kind;
  readonly from: string;
  readonly at: string;
  readonly before: string;
  readonly after: string;
  readonly moved: string;
  readonly low: readonly [value: string, read: string];
  readonly high: readonly [value: string, read: string];
  readonly slope: string;
  readonly offset: string;
  readonly item: string;
  readonly note: string;
  readonly correct: boolean;
}
const NUMBERS = ["before", "after", "moved", "slope", "offset"] as const;

/** What is sent; null where a number or a time cannot be read, or a standard is half typed. */
function bodyOf(draft: Draft, clientId: string, zone: string): object | null {
  const body: Record<string, unknown> = { clientId, kind: draft.kind };
  for (const key of ["from", "at"] as const) {
    const at = instantOfWall(draft[key], zone);
    if (at === null) return null;
    body[key] = at;
  }
  for (const key of NUMBERS) {
    const typed = numberOf(draft[key]);
    if (typed === undefined) return null;
    if (typed !== null) body[key] = typed;
  }
  const standards: object[] = [];
  if (draft.kind !== "cleaning")
    for (const [value, read] of [draft.low, draft.high]) {
      const [worth, shown] = [numberOf(value), numberOf(read)];
      if (worth === undefined || shown === undefined || (worth === null) !== (shown === null)) return null;
      if (worth !== null) standards.push({ value: worth, read: shown });
    }
  if (standards.length > 0) body.standards = standards;
  if (draft.item.trim() !== "") body.item = draft.item.trim();
  if (draft.note.trim() !== "") body.note = draft.note.trim();
  if (draft.correct) body.correct = true;
  return body;
}

const noNumber = (text: string) => (numberOf(text) === undefined ? "is not a number" : "");

/** What was done to a probe and what it read before and after, one hand, in the site's time. */
export function CalibrateForm({
  row,
  zone,
  now,
  onClose,
  onDone,
}: {
  readonly row: ProbeRow;
  readonly zone: string;
  readonly now: number;
  readonly onClose: () => void;
  readonly onDone: (answer: CalibrationAnswer) => void;
}) {
  const [clientId] = useState(newClientId);
  const [draft, setDraft] = useState<Draft>(() => ({
    kind: "calibration",
    from: wallText(now - HALF_HOUR, zone),
    at: wallText(now, zone),
    before: "",
    after: "",
    moved: "",
    low: ["", ""],
    high: ["", ""],
    slope: "",
    offset: "",
    item: "",
    note: "",
    correct: false,
  }));
  const set = (change: Partial<Draft>) => setDraft((had) => ({ ...had, ...change }));
  const unit = row.unitLabel === "" ? "" : `, ${row.unitLabel}`;
  const input = (key: "before" | "after" | "moved" | "slope" | "offset") => ({
    value: draft[key],
    inputMode: "decimal" as const,
    onChange: (event: { target: { value: string } }) => set({ [key]: event.target.value }),
  });
  const standard = (key: "low" | "high", words: string, wrong: string) => (
    <div className={css.pair}>
      <Field label={`${words}${unit}`} wrong={noNumber(draft[key][0]) || wrong}>
        {(links) => (
          <input
            {...links}
            value={draft[key][0]}
            inputMode="decimal"
            onChange={(event) => set({ [key]: [event.target.value, draft[key][1]] })}
          />
        )}
      </Field>
      <Field
        label="Probe reading in it"
        wrong={
          noNumber(draft[key][1]) ||
          ((draft[key][0] === "") === (draft[key][1] === "") ? "" : "fill in both or neither")
        }
      >
        {(links) => (
          <input
            {...links}
            value={draft[key][1]}
            inputMode="decimal"
            onChange={(event) => set({ [key]: [draft[key][0], event.target.value] })}
          />
        )}
      </Field>
    </div>
  );
  return (
    <FormDialog<CalibrationAnswer>
      title={nameOf(row)}
      path={`/streams/${row.stream}/calibrations`}
      submit="Record"
      fields={[
        "kind",
        "from",
        "at",
        "before",
        "after",
        "moved",
        "standards",
        "slope",
        "offset",
        "item",
        "note",
        "correct",
      ]}
      body={() => bodyOf(draft, clientId, zone)}
      onClose={onClose}
      onDone={onDone}
    >
      {(wrong, asked) => (
        <>
          <Field label="What was done" wrong={wrong("kind")}>
            {(links) => (
              <select
                {...links}
                value={draft.kind}
                onChange={(event) => set({ kind: event.target.value as Kind })}
              >
                {KINDS.map(([id, label]) => (
                  <option key={id} value={id}>
                    {label}
                  </option>
                ))}
              </select>
            )}
          </Field>
          <div className={css.pair}>
            {(["from", "at"] as const).map((key) => (
              <Field
                key={key}
                label={key === "from" ? "Out of the water" : "Back in the water"}
                wrong={
                  wrong(key) || (asked && instantOfWall(draft[key], zone) === null ? "enter a time" : "")
                }
              >
                {(links) => (
                  <input
                    {...links}
                    type="datetime-local"
                    value={draft[key]}
                    onChange={(event) => set({ [key]: event.target.value })}
                  />
                )}
              </Field>
            ))}
          </div>
          <div className={css.pair}>
            <Field label={`Before cleaning${unit}`} wrong={noNumber(draft.before) || wrong("before")}>
              {(links) => <input {...links} {...input("before")} />}
            </Field>
            <Field label="After cleaning, same water" wrong={noNumber(draft.after) || wrong("after")}>
              {(links) => <input {...links} {...input("after")} />}
            </Field>
          </div>
          {draft.kind !== "cleaning" && (
            <>
              {standard("low", "First buffer or standard", wrong("standards"))}
              {standard("high", "Second, if used", "")}
            </>
          )}
          <details className={css.more}>
            <summary>More: slope, lot, note</summary>
            {row.quantity === "ph" && (
              <div className={css.pair}>
                <Field label="Slope, %" wrong={noNumber(draft.slope) || wrong("slope")}>
                  {(links) => <input {...links} {...input("slope")} />}
                </Field>
                <Field label="Offset, mV" wrong={noNumber(draft.offset) || wrong("offset")}>
                  {(links) => <input {...links} {...input("offset")} />}
                </Field>
              </div>
            )}
            <Field
              label={`Change in the water meanwhile${unit}`}
              hint="Measured with another instrument"
              wrong={noNumber(draft.moved) || wrong("moved")}
            >
              {(links) => <input {...links} {...input("moved")} />}
            </Field>
            <Field label="Serial number or buffer lot" wrong={wrong("item")}>
              {(links) => (
                <input
                  {...links}
                  value={draft.item}
                  maxLength={200}
                  onChange={(event) => set({ item: event.target.value })}
                />
              )}
            </Field>
            <Field label="Note" wrong={wrong("note")}>
              {(links) => (
                <textarea
                  {...links}
                  value={draft.note}
                  maxLength={1_500}
                  onChange={(event) => set({ note: event.target.value })}
                />
              )}
            </Field>
          </details>
          <label className={form.check}>
            <input
              type="checkbox"
              checked={draft.correct}
              onChange={(event) => set({ correct: event.target.checked })}
            />
            <span>
              Store a correction for the readings since the previous visit; the raw readings stay as they are
            </span>
          </label>
          {wrong("correct") !== "" && (
            <p className={form.wrong} role="alert">
              {wrong("correct")}
            </p>
          )}
          {asked && bodyOf(draft, clientId, zone) === null && (
            <p className={form.wrong} role="alert">
              A number or time above cannot be read: check the fields.
            </p>
          )}
        </>
      )}
    </FormDialog>
  );
}

"use client";

import { useState } from "react";
import type { ChangeAnswer, SystemSetUpView } from "../../../lib/core/wire/set-up-forms.ts";
import { Field } from "../field.tsx";
import { pointWords } from "../point-words.ts";
import type { Change } from "./change-note.tsx";
import { FormDialog, needed } from "./form-dialog.tsx";
import css from "./set-up.module.css";
import { numberOf } from "./typed-number.ts";

type StreamRow = SystemSetUpView["streams"][number];

/** How often a stream is expected and whether its system can be judged without it. */
export function StreamEditor({
  stream,
  onClose,
  onDone,
}: {
  readonly stream: StreamRow;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}) {
  const [minutes, setMinutes] = useState(
    stream.intervalSeconds === null ? "" : String(stream.intervalSeconds / 60),
  );
  const [critical, setCritical] = useState(stream.critical);
  const [reason, setReason] = useState("");
  const typed = numberOf(minutes);
  const isWrong = typed === undefined || (typed !== null && (typed < 1 / 60 || typed > 527_040));
  return (
    <FormDialog<ChangeAnswer>
      title={`${stream.label}, ${pointWords(stream.point)}`}
      path={`/streams/${stream.stream}`}
      submit="Save"
      fields={["intervalSeconds", "critical", "reason"]}
      body={() =>
        isWrong || reason.trim().length < 3
          ? null
          : {
              intervalSeconds: typed === null ? null : Math.round(typed * 60),
              critical,
              reason: reason.trim(),
            }
      }
      onClose={onClose}
      onDone={(answer) => onDone({ says: `${stream.label} at ${pointWords(stream.point)} saved.`, answer })}
    >
      {(wrong, asked) => (
        <>
          <Field
            label="Expected every, minutes"
            hint="Silent after three of these. Empty: not scheduled, never silent"
            wrong={isWrong ? "is not a time between a second and a year" : wrong("intervalSeconds")}
          >
            {(links) => (
              <input
                {...links}
                value={minutes}
                inputMode="decimal"
                onChange={(e) => setMinutes(e.target.value)}
              />
            )}
          </Field>
          <label className={css.check}>
            <input type="checkbox" checked={critical} onChange={(e) => setCritical(e.target.checked)} />
            <span>
              Critical: without it the system is <i>not known</i>
            </span>
          </label>
          <Field label="Reason" wrong={needed(reason, asked) || wrong("reason")}>
            {(links) => (
              <textarea
                {...links}
                value={reason}
                maxLength={500}
                onChange={(e) => setReason(e.target.value)}
              />
            )}
          </Field>
        </>
      )}
    </FormDialog>
  );
}

"use client";

import { useState } from "react";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog, needed } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import { numberOf } from "#app/_components/controls/typed-number.ts";
import { instantOfWall } from "#app/_components/controls/wall-input.ts";
import type { Change } from "#app/_components/words/change.ts";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { ChangeAnswer, SystemSetUpView } from "#contract/set-up-forms.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { type BasisDraft, BasisFields, basisDraft, offsetWrong } from "./basis-fields.tsx";

type StreamRow = SystemSetUpView["streams"][number];

/** What of a pH or ORP probe's basis is to be changed, as it is sent: nothing where the form says what held already. */
function basisChange(stream: StreamRow, draft: BasisDraft, zone: string): object | null | "wrong" {
  const held = stream.basis.at(-1);
  const offset = numberOf(draft.phOffset);
  const from = draft.since === "" ? undefined : instantOfWall(draft.since, zone);
  if (offset === undefined || offsetWrong(draft.phOffset) !== "" || from === null) return "wrong";
  const isSame =
    draft.phScale === held?.phScale && (offset ?? 0) === held.phOffset && draft.electrode === held.electrode;
  if (isSame && from === undefined) return null;
  return {
    ...(stream.quantity === "ph"
      ? { phScale: draft.phScale, phOffset: offset ?? 0 }
      : { electrode: draft.electrode }),
    ...(from === undefined ? {} : { basisFrom: new Date(from).toISOString() }),
  };
}

/** How often a stream is expected, for pH and ORP what its numbers stand on, and whether its system can be judged without it. */
export function StreamEditor({
  stream,
  zone,
  onClose,
  onDone,
}: {
  readonly stream: StreamRow;
  readonly zone: string;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}) {
  const [minutes, setMinutes] = useState(
    stream.intervalSeconds === null ? "" : String(stream.intervalSeconds / 60),
  );
  const [critical, setCritical] = useState(stream.critical);
  const [reason, setReason] = useState("");
  const [draft, setDraft] = useState(() => basisDraft(stream.basis));
  const basis = draft && basisChange(stream, draft, zone);
  const typed = numberOf(minutes);
  const isEveryWrong = typed === undefined || (typed !== null && (typed < 1 / 60 || typed > 527_040));
  const isWrong = isEveryWrong || basis === "wrong";
  return (
    <FormDialog<ChangeAnswer>
      title={`${stream.label}, ${pointWords(stream.point)}`}
      path={`/streams/${stream.stream}`}
      submit="Save"
      fields={["intervalSeconds", "critical", "reason", "phScale", "phOffset", "electrode", "basisFrom"]}
      body={() =>
        isWrong || reason.trim().length < 3
          ? null
          : {
              intervalSeconds: typed === null ? null : Math.round(typed * 60),
              critical,
              ...basis,
              reason: reason.trim(),
            }
      }
      onClose={onClose}
      onDone={(answer) => onDone({ says: `${stream.label} at ${pointWords(stream.point)} saved.`, answer })}
    >
      {(wrong, asked) => (
        <>
          <Field
            label="Expected interval, minutes"
            hint="Silent after three missed. Empty: not scheduled, never silent"
            wrong={isEveryWrong ? "must be between one second and one year" : wrong("intervalSeconds")}
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
              Critical: without it the state of the system is <i>not known</i>
            </span>
          </label>
          {draft !== null && (
            <BasisFields
              quantity={stream.quantity}
              basis={stream.basis}
              draft={draft}
              clock={clockOf(zone)}
              wrong={wrong}
              onChange={setDraft}
            />
          )}
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

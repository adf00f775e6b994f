"use client";

import { useState } from "react";
import type { HabitatAnswer, ResidentsView } from "../../../lib/core/wire/habitat.ts";
import { Field } from "../field.tsx";
import { instantOfWall, wallText } from "../wall-input.ts";
import type { Change } from "./change-note.tsx";
import { FormDialog, needed } from "./form-dialog.tsx";
import { changeOf, monthsWords } from "./habitat-words.ts";
import css from "./set-up.module.css";

/** A signed compromise is withdrawn from a day on; it stays in history, and its months are a conflict again. */
export function WithdrawCompromise({
  view,
  signed,
  onClose,
  onDone,
}: {
  readonly view: ResidentsView;
  readonly signed: ResidentsView["compromises"][number];
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}) {
  const [reason, setReason] = useState("");
  const [shownNow] = useState(wallText(view.now, view.zone));
  const [from, setFrom] = useState(shownNow);
  return (
    <FormDialog<HabitatAnswer>
      title={`Withdraw the compromise for ${signed.label}`}
      path={`/compromises/${encodeURIComponent(signed.id)}/withdraw`}
      submit="Withdraw it"
      fields={["reason", "from"]}
      body={() => {
        const at = instantOfWall(from, view.zone);
        if (reason.trim().length < 3 || at === null) return null;
        return { reason, ...(from === shownNow ? {} : { from: at }) };
      }}
      onClose={onClose}
      onDone={(answer) => onDone(changeOf(`The compromise for ${signed.label} is withdrawn.`, answer))}
    >
      {(wrong, asked) => (
        <>
          <p>
            {signed.label} {signed.low} to {signed.high}, {monthsWords(signed.months)}, between{" "}
            {signed.between}.
          </p>
          <p className={css.soft}>
            From then on these months are a conflict again. The band that stands goes on ringing until
            somebody signs another compromise, or the residents change and the limits are confirmed.
          </p>
          <Field
            label="From"
            hint={`${view.zone} time; the water is judged again from there`}
            wrong={wrong("from")}
          >
            {(links) => (
              <input
                {...links}
                type="datetime-local"
                value={from}
                onChange={(e) => setFrom(e.target.value)}
              />
            )}
          </Field>
          <Field
            label="Reason"
            hint="It stands in the logbook and in the audit trail, with your name"
            wrong={needed(reason, asked) || wrong("reason")}
          >
            {(links) => <textarea {...links} value={reason} onChange={(e) => setReason(e.target.value)} />}
          </Field>
        </>
      )}
    </FormDialog>
  );
}

"use client";

import { useState } from "react";
import { FormDialog } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import type { Change } from "#app/_components/words/change.ts";
import { changeOf } from "#app/_components/words/habitat-words.ts";
import type { HabitatAnswer, ResidentsView } from "#contract/habitat.ts";
import { monthRuns } from "#core/time/month-names.ts";
import { monthShort } from "#core/time/names.ts";
import { Moment, ReasonField, useFrom } from "../dated-fields.tsx";
import { signedRange } from "./signed-words.ts";

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
  const { from, setFrom, sent } = useFrom(view.now, view.zone);
  return (
    <FormDialog<HabitatAnswer>
      title={`Withdraw the compromise for ${signed.label}`}
      path={`/compromises/${encodeURIComponent(signed.id)}/withdraw`}
      submit="Withdraw"
      fields={["reason", "from"]}
      body={() => {
        return reason.trim().length < 3 || sent === null ? null : { reason, ...sent };
      }}
      onClose={onClose}
      onDone={(answer) => onDone(changeOf(`Compromise for ${signed.label} withdrawn.`, answer))}
    >
      {(wrong, asked) => (
        <>
          <p>
            {signed.label} {signedRange(signed)}, {monthRuns(signed.months, monthShort)}, between{" "}
            {signed.between}.
          </p>
          <p className={css.soft}>
            From then on these months are a conflict again. The band in force keeps raising alarms until
            someone signs another compromise, or the residents change and the new limits are confirmed.
          </p>
          <Moment
            label="From"
            zone={view.zone}
            hint={`${view.zone} time. Data from then on is evaluated again`}
            value={from}
            wrong={wrong("from")}
            onChange={setFrom}
          />
          <ReasonField
            value={reason}
            asked={asked}
            wrong={wrong("reason")}
            hint="Kept in the logbook and the audit trail, with your name"
            onChange={setReason}
          />
        </>
      )}
    </FormDialog>
  );
}

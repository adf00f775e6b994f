"use client";

import { useState } from "react";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog, needed } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import { instantOfWall } from "#app/_components/controls/wall-input.ts";
import type { Change } from "#app/_components/words/change.ts";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { ChangeAnswer, SystemSetUpView } from "#contract/set-up-forms.ts";
import { RoleSelect, roleLabel } from "./role-select.tsx";

/** Says or corrects what a point is for, with a reason. */
export function PointEditor({
  point,
  setUp,
  onClose,
  onDone,
}: {
  readonly point: SystemSetUpView["points"][number];
  readonly setUp: SystemSetUpView;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}) {
  const [role, setRole] = useState(point.role);
  const [since, setSince] = useState("");
  const [reason, setReason] = useState("");
  const from = since === "" ? undefined : instantOfWall(since, setUp.zone);
  const isSame = role === point.role && !point.roleGuessed;
  const name = pointWords(point.code);
  return (
    <FormDialog<ChangeAnswer>
      title={`What ${name} is for`}
      path={`/systems/${encodeURIComponent(setUp.system)}/points/${encodeURIComponent(point.code)}`}
      submit="Save"
      fields={["role", "from", "reason"]}
      body={() =>
        reason.trim().length < 3 || from === null || isSame
          ? null
          : {
              role,
              ...(from === undefined ? {} : { from: new Date(from).toISOString() }),
              reason: reason.trim(),
            }
      }
      onClose={onClose}
      onDone={(answer) => onDone({ says: `${name}: ${roleLabel(role)}.`, answer })}
    >
      {(wrong, asked) => (
        <>
          {point.roleGuessed && (
            <p className={css.soft}>
              {roleLabel(point.role)} is a guess from its name. If it is right, save it as it is.
            </p>
          )}
          <Field
            label="What it is for"
            hint="Limits, alarms and likely causes depend on it"
            wrong={(asked && isSame ? "no change: choose something else" : "") || wrong("role")}
          >
            {(links) => (
              <RoleSelect links={links} chosen={role} onChange={(next) => setRole(next ?? point.role)} />
            )}
          </Field>
          <Field
            label="From"
            hint={`Empty: now. ${setUp.zone} time. Data from then on is evaluated again`}
            wrong={(asked && from === null ? "not a valid time" : "") || wrong("from")}
          >
            {(links) => (
              <input
                {...links}
                type="datetime-local"
                value={since}
                onChange={(e) => setSince(e.target.value)}
              />
            )}
          </Field>
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

"use client";

import { useState } from "react";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog, needed } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import type { Change } from "#app/_components/words/change.ts";
import type { ChangeAnswer, SystemSetUpView } from "#contract/set-up-forms.ts";
import { SystemFields, systemBody, type TypedSystem } from "./system-fields.tsx";

/** The details of a system, closing and opening it again, with a reason. */
export function EditSystem({
  setUp,
  onClose,
  onDone,
}: {
  readonly setUp: SystemSetUpView;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}) {
  const [typed, setTyped] = useState<TypedSystem>({
    name: setUp.name,
    kind: setUp.kind,
    type: setUp.type,
    startingBands: setUp.startingBands,
    water: setUp.water,
    volume: String(setUp.volume),
    duty: setUp.duty === null ? "" : String(setUp.duty),
    youngFilter: setUp.youngFilter,
  });
  const [isClosed, setClosed] = useState(setUp.closed !== null);
  const [reason, setReason] = useState("");
  const closing = (): object => {
    if (isClosed === (setUp.closed !== null)) return {};
    return { closed: isClosed ? new Date().toISOString() : null };
  };
  const body = () => {
    const fields = systemBody(typed);
    return fields === null || reason.trim().length < 3
      ? null
      : { ...fields, ...closing(), reason: reason.trim() };
  };
  return (
    <FormDialog<ChangeAnswer>
      title={`Change ${setUp.name}`}
      path={`/systems/${encodeURIComponent(setUp.system)}`}
      submit="Save"
      fields={["name", "kind", "type", "startingBands", "water", "volume", "duty", "closed", "reason"]}
      body={body}
      onClose={onClose}
      onDone={(answer) => onDone({ says: `${typed.name} saved.`, answer })}
    >
      {(wrong, asked) => (
        <>
          <SystemFields typed={typed} onChange={setTyped} wrong={wrong} asked={asked} />
          <label className={css.check}>
            <input type="checkbox" checked={isClosed} onChange={(e) => setClosed(e.target.checked)} />
            <span>Closed: it no longer appears in lists; its readings are kept</span>
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

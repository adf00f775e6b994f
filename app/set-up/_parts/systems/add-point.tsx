"use client";

import { useState } from "react";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import type { Change } from "#app/_components/words/change.ts";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { ChangeAnswer, SystemSetUpView } from "#contract/set-up-forms.ts";
import { guessedRole } from "#core/set-up/guessed-role.ts";
import type { PointRole } from "#core/set-up/point-role.ts";
import { CODE_HINT, codeWrong } from "../short-name.ts";
import { RoleSelect } from "./role-select.tsx";

/** A new place in a system where water is measured. */
export function AddPoint({
  setUp,
  onClose,
  onDone,
}: {
  readonly setUp: SystemSetUpView;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}) {
  const [code, setCode] = useState("");
  const [role, setRole] = useState<PointRole | null>(null);
  const [twin, setTwin] = useState("");
  return (
    <FormDialog<ChangeAnswer>
      title="Add a point"
      path={`/systems/${encodeURIComponent(setUp.system)}/points`}
      submit="Add the point"
      fields={["code", "role", "twinOf"]}
      body={() =>
        codeWrong(code, true) !== ""
          ? null
          : { code, ...(role === null ? {} : { role }), twinOf: twin === "" ? null : twin }
      }
      onClose={onClose}
      onDone={(answer) => onDone({ says: `Point ${pointWords(code)} added.`, answer })}
    >
      {(wrong, asked) => (
        <>
          <p className={css.soft}>
            Once a point has readings it cannot be removed. A point without readings does no harm.
          </p>
          <Field label="Short name" hint={CODE_HINT} wrong={codeWrong(code, asked) || wrong("code")}>
            {(links) => (
              <input
                {...links}
                value={code}
                autoCapitalize="none"
                autoComplete="off"
                onChange={(e) => setCode(e.target.value.trim())}
              />
            )}
          </Field>
          <Field
            label="What it is for"
            hint="Limits, alarms and likely causes depend on it"
            wrong={wrong("role")}
          >
            {(links) => (
              <RoleSelect links={links} chosen={role} guess={guessedRole(code)} onChange={setRole} />
            )}
          </Field>
          <Field label="Second probe of" hint="If two probes measure the same water" wrong={wrong("twinOf")}>
            {(links) => (
              <select {...links} value={twin} onChange={(e) => setTwin(e.target.value)}>
                <option value="">not a second probe</option>
                {setUp.points.map((p) => (
                  <option key={p.id} value={p.code}>
                    {pointWords(p.code)}
                  </option>
                ))}
              </select>
            )}
          </Field>
        </>
      )}
    </FormDialog>
  );
}

"use client";

import { useState } from "react";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import type { ChangeAnswer } from "#contract/set-up-forms.ts";
import { CODE_HINT, codeWrong } from "../short-name.ts";
import { NEW_SYSTEM, SystemFields, systemBody } from "./system-fields.tsx";

/** A new system with its first point; its set-up opens when it is stored. */
export function AddSystem({
  sites,
  onClose,
}: {
  readonly sites: readonly string[];
  readonly onClose: () => void;
}) {
  const [typed, setTyped] = useState(NEW_SYSTEM);
  const [code, setCode] = useState("");
  const [site, setSite] = useState(sites[0] ?? "");
  return (
    <FormDialog<ChangeAnswer>
      title="Add a system"
      path="/systems"
      submit="Add the system"
      fields={["site", "code", "name", "kind", "type", "startingBands", "water", "volume", "duty"]}
      body={() => {
        const fields = systemBody(typed);
        return fields === null || codeWrong(code, true) !== "" ? null : { site, code, ...fields };
      }}
      onClose={onClose}
      onDone={() => window.location.assign(`/set-up/systems/${encodeURIComponent(code)}`)}
    >
      {(wrong, asked) => (
        <>
          <div className={css.two}>
            <Field label="Site" wrong={wrong("site")}>
              {(links) => (
                <select {...links} value={site} onChange={(e) => setSite(e.target.value)}>
                  {sites.map((one) => (
                    <option key={one}>{one}</option>
                  ))}
                </select>
              )}
            </Field>
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
          </div>
          <SystemFields typed={typed} onChange={setTyped} wrong={wrong} asked={asked} />
          <p className={css.soft}>
            It starts with one point, “display”. Add more points and the bands next. A system can be closed
            later, but not deleted.
          </p>
        </>
      )}
    </FormDialog>
  );
}

"use client";

import { useState } from "react";
import { Button, ButtonLink } from "#app/_components/controls/button.tsx";
import { Dialog } from "#app/_components/controls/dialog.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import css from "#app/_components/controls/forms.module.css";
import { CODE_HINT, codeWrong } from "../short-name.ts";

/** A species is made by the first version of its profile: this leads there. */
export function NewSpecies({ onClose }: { readonly onClose: () => void }) {
  const [code, setCode] = useState("");
  const [name, setName] = useState("");
  const isReady = code !== "" && codeWrong(code, true) === "" && name.trim().length > 1;
  const path = `/set-up/profiles/${encodeURIComponent(code)}?name=${encodeURIComponent(name.trim())}`;
  return (
    <Dialog title="Add a species" onClose={onClose}>
      <div className={css.form}>
        <Field label="Name">
          {(links) => (
            <input {...links} value={name} autoComplete="off" onChange={(e) => setName(e.target.value)} />
          )}
        </Field>
        <Field label="Short name" hint={CODE_HINT} wrong={codeWrong(code, false)}>
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
        <p className={css.buttons}>
          {isReady && (
            <ButtonLink kind="main" href={path}>
              Write its profile
            </ButtonLink>
          )}
          <Button onClick={onClose}>Cancel</Button>
        </p>
      </div>
    </Dialog>
  );
}

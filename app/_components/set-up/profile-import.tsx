"use client";

import { useState } from "react";
import type { HabitatAnswer } from "../../../lib/core/wire/habitat.ts";
import { Field } from "../field.tsx";
import type { Change } from "./change-note.tsx";
import { ReasonField } from "./dated-fields.tsx";
import { FormDialog } from "./form-dialog.tsx";
import { changeOf } from "./habitat-words.ts";
import css from "./set-up.module.css";

/** A profile from a file: nothing is stored unless every row is sound, and what is wrong is named by its row. */
export function ImportForm({
  species,
  onClose,
  onDone,
}: {
  readonly species: string;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}) {
  const [text, setText] = useState("");
  const [file, setFile] = useState("");
  const [population, setPopulation] = useState("");
  const [reason, setReason] = useState("");
  const format = file.endsWith(".csv") ? "csv" : "json";
  return (
    <FormDialog<HabitatAnswer>
      title="Import a profile"
      path={`/profiles/${encodeURIComponent(species)}/import`}
      submit="Import"
      fields={["reason"]}
      body={() =>
        text === "" || reason.trim().length < 3
          ? null
          : { format, text, reason, ...(format === "csv" ? { population: population.trim() || null } : {}) }
      }
      onClose={onClose}
      onDone={(answer) => onDone(changeOf("Imported as a new version.", answer))}
    >
      {(wrong, asked) => (
        <>
          <p className={css.soft}>
            JSON in <a href="/api/v1/profiles/schema.json">this schema</a>, or CSV with the same columns as an
            export.
          </p>
          <Field label="File" hint={file} wrong={asked && text === "" ? "choose a file" : ""}>
            {(links) => (
              <input
                {...links}
                type="file"
                accept=".csv,.json"
                onChange={(e) => {
                  const [chosen] = e.target.files ?? [];
                  setFile(chosen?.name ?? "");
                  if (chosen) void chosen.text().then(setText);
                }}
              />
            )}
          </Field>
          {format === "csv" && file !== "" && (
            <Field label="Population" hint="empty: all populations">
              {(links) => (
                <input {...links} value={population} onChange={(e) => setPopulation(e.target.value)} />
              )}
            </Field>
          )}
          <ReasonField value={reason} asked={asked} wrong={wrong("reason")} onChange={setReason} />
        </>
      )}
    </FormDialog>
  );
}

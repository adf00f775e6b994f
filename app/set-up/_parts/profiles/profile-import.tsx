"use client";

import { useState } from "react";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import type { Change } from "#app/_components/words/change.ts";
import { changeOf } from "#app/_components/words/habitat-words.ts";
import type { HabitatAnswer } from "#contract/habitat.ts";
import { ReasonField } from "../dated-fields.tsx";

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

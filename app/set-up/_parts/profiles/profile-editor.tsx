"use client";

import { useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog, needed } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import { numberOf } from "#app/_components/controls/typed-number.ts";
import type { Change } from "#app/_components/words/change.ts";
import { changeOf } from "#app/_components/words/habitat-words.ts";
import type { HabitatAnswer, ProfileView } from "#contract/habitat.ts";
import { CONFIDENCES, ENTRY_KINDS, MARKS, MEANINGS, STAGES } from "#core/habitat/profile.ts";
import { MONTHS } from "#core/time/names.ts";
import { ReasonField } from "../dated-fields.tsx";

type Version = ProfileView["profiles"][number];
/** An entry as it is typed: everything is text until it is sent. */
interface Row {
  readonly key: number;
  readonly quantity: string;
  readonly stage: string;
  readonly month: string;
  readonly low: string;
  readonly typical: string;
  readonly high: string;
  readonly means: string;
  readonly kind: string;
  readonly source: string;
  readonly mark: string;
  readonly confidence: string;
  readonly place: string;
  readonly depth: string;
  readonly years: string;
  readonly method: string;
  readonly note: string;
}
const text = (value: number | string | null): string => (value === null ? "" : String(value));
const EMPTY: Omit<Row, "key"> = {
  quantity: "temperature",
  stage: "",
  month: "",
  low: "",
  typical: "",
  high: "",
  means: "author's stated range",
  kind: "advice",
  source: "",
  mark: "read",
  confidence: "low",
  place: "",
  depth: "",
  years: "",
  method: "",
  note: "",
};
const rowOf = (entry: Version["all"][number], key: number): Row => ({
  key,
  quantity: entry.quantity,
  stage: text(entry.stage),
  month: text(entry.month),
  low: text(entry.low),
  typical: text(entry.typical),
  high: text(entry.high),
  means: entry.means,
  kind: entry.kind,
  source: entry.source,
  mark: entry.mark,
  confidence: entry.confidence,
  place: text(entry.place),
  depth: text(entry.depth),
  years: text(entry.years),
  method: text(entry.method),
  note: text(entry.note),
});
const orNull = (value: string): string | null => value.trim() || null;

function entryOf(row: Row): object | null {
  const [low, typical, high] = [numberOf(row.low), numberOf(row.typical), numberOf(row.high)];
  if (low === undefined || typical === undefined || high === undefined || row.source.trim().length < 3)
    return null;
  return {
    quantity: row.quantity.trim(),
    stage: orNull(row.stage),
    month: row.month === "" ? null : Number(row.month),
    low,
    typical,
    high,
    means: row.means,
    kind: row.kind,
    source: row.source,
    mark: row.mark,
    confidence: row.confidence,
    place: orNull(row.place),
    depth: orNull(row.depth),
    years: orNull(row.years),
    method: orNull(row.method),
    note: orNull(row.note),
  };
}

type Option = readonly [string, string];
const same = (words: readonly string[]): readonly Option[] => words.map((word) => [word, word]);
const STAGE_OPTIONS: readonly Option[] = [["", "every stage"], ...same(STAGES)];
const MONTH_OPTIONS: readonly Option[] = [
  ["", "all year"],
  ...MONTHS.map((name, i): Option => [String(i + 1), name]),
];

function RowFields({
  row,
  place,
  wrong,
  asked,
  onChange,
  onDrop,
}: {
  readonly row: Row;
  readonly place: number;
  readonly wrong: (field: string) => string;
  readonly asked: boolean;
  readonly onChange: (row: Row) => void;
  readonly onDrop: () => void;
}) {
  const at = (field: keyof Row) => wrong(`entries.${place}.${field}`);
  const typed = (
    field: keyof Row,
    label: string,
    options: { readonly isNumber?: boolean; readonly hint?: string; readonly says?: string } = {},
  ) => (
    <Field label={label} hint={options.hint ?? ""} wrong={options.says || at(field)}>
      {(links) => (
        <input
          {...links}
          value={row[field]}
          autoComplete="off"
          inputMode={options.isNumber ? "decimal" : "text"}
          onChange={(e) => onChange({ ...row, [field]: e.target.value })}
        />
      )}
    </Field>
  );
  const chosen = (field: keyof Row, label: string, options: readonly Option[]) => (
    <Field label={label} wrong={at(field)}>
      {(links) => (
        <select {...links} value={row[field]} onChange={(e) => onChange({ ...row, [field]: e.target.value })}>
          {options.map(([id, words]) => (
            <option key={id} value={id}>
              {words}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
  const number = (field: "low" | "typical" | "high", label: string) =>
    typed(field, label, {
      isNumber: true,
      says: asked && numberOf(row[field]) === undefined ? "not a number" : "",
    });
  return (
    <fieldset className={css.entry}>
      <legend>
        Entry {place + 1}{" "}
        <Button kind="bare" aria-label={`Remove entry ${place + 1}`} onClick={onDrop}>
          remove
        </Button>
      </legend>
      <div className={css.two}>
        {typed("quantity", "Quantity", { hint: "id, such as temperature" })}
        {chosen("kind", "Kind", same(ENTRY_KINDS))}
        {chosen("stage", "Life stage", STAGE_OPTIONS)}
        {chosen("month", "Month", MONTH_OPTIONS)}
      </div>
      <div className={css.three}>
        {number("low", "Low")}
        {number("typical", "Typical")}
        {number("high", "High")}
      </div>
      {typed("source", "Source", {
        says: needed(row.source, asked),
        hint: "paper, handbook, data set or person",
      })}
      <details>
        <summary>Source quality, place and time</summary>
        <div className={css.two}>
          {chosen("mark", "The source was", same(MARKS))}
          {chosen("confidence", "Confidence", same(CONFIDENCES))}
          {chosen("means", "Low and high are", same(MEANINGS))}
          {typed("place", "Place")}
          {typed("depth", "Depth")}
          {typed("years", "Years")}
          {typed("method", "Method")}
          {typed("note", "Note")}
        </div>
      </details>
    </fieldset>
  );
}

/** A new version of a profile. Nothing is stored while a number has no source. */
export function ProfileEditor({
  species,
  name,
  from,
  onClose,
  onDone,
}: {
  readonly species: string;
  /** Of a species that is not known yet. */
  readonly name: string | null;
  readonly from: Version | null;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}) {
  const [rows, setRows] = useState<readonly Row[]>(
    from === null ? [{ ...EMPTY, key: 0 }] : from.all.map(rowOf),
  );
  const [population, setPopulation] = useState(from?.population ?? "");
  const [latitude, setLatitude] = useState(text(from?.latitude ?? null));
  const [longitude, setLongitude] = useState(text(from?.longitude ?? null));
  const [reason, setReason] = useState("");
  const next = Math.max(-1, ...rows.map((row) => row.key)) + 1;
  return (
    <FormDialog<HabitatAnswer>
      title={from === null ? "A new profile" : `Version ${from.version + 1}`}
      path={`/profiles/${encodeURIComponent(species)}`}
      submit="Save this version"
      fields={["reason", "entries", "latitude", "longitude", "population"]}
      body={() => {
        const entries = rows.map(entryOf);
        const [north, east] = [numberOf(latitude), numberOf(longitude)];
        if (
          entries.includes(null) ||
          entries.length === 0 ||
          reason.trim().length < 3 ||
          north === undefined ||
          east === undefined
        )
          return null;
        return {
          ...(name === null ? {} : { species: { id: species, name } }),
          population: population.trim() || null,
          latitude: north,
          longitude: east,
          entries,
          reason,
        };
      }}
      onClose={onClose}
      onDone={(answer) => onDone(changeOf("Saved. The bands of systems where it lives are updated.", answer))}
    >
      {(wrong, asked) => (
        <>
          <div className={css.three}>
            <Field label="Population" hint="empty: all populations" wrong={wrong("population")}>
              {(links) => (
                <input
                  {...links}
                  value={population}
                  disabled={from !== null}
                  onChange={(e) => setPopulation(e.target.value)}
                />
              )}
            </Field>
            <Field label="Home latitude" hint="degrees north" wrong={wrong("latitude")}>
              {(links) => (
                <input
                  {...links}
                  inputMode="decimal"
                  value={latitude}
                  onChange={(e) => setLatitude(e.target.value)}
                />
              )}
            </Field>
            <Field label="Home longitude" hint="degrees east" wrong={wrong("longitude")}>
              {(links) => (
                <input
                  {...links}
                  inputMode="decimal"
                  value={longitude}
                  onChange={(e) => setLongitude(e.target.value)}
                />
              )}
            </Field>
          </div>
          {rows.map((row, place) => (
            <RowFields
              key={row.key}
              row={row}
              place={place}
              wrong={wrong}
              asked={asked}
              onChange={(changed) => setRows(rows.map((each) => (each.key === row.key ? changed : each)))}
              onDrop={() => setRows(rows.filter((each) => each.key !== row.key))}
            />
          ))}
          <p>
            <Button onClick={() => setRows([...rows, { ...EMPTY, key: next }])}>Add an entry</Button>
          </p>
          <ReasonField
            value={reason}
            asked={asked}
            wrong={wrong("reason")}
            hint="what is new in this version"
            onChange={setReason}
          />
        </>
      )}
    </FormDialog>
  );
}

"use client";

import { useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Dialog } from "#app/_components/controls/dialog.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { needed } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import { numberOf } from "#app/_components/controls/typed-number.ts";
import { issueAt, type Sent, send } from "#app/_components/live/send.ts";
import type { HomeWaterLookView } from "#contract/home-water-forms.ts";
import { monthShort } from "#core/time/names.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import { numberText } from "#core/units/number-text.ts";

const UNITS = {
  temperature: [
    ["Cel", "°C"],
    ["[degF]", "°F"],
    ["K", "K"],
  ],
  salinity: [["1", "practical salinity"]],
} as const;
type Quantity = keyof typeof UNITS;

/** What the file would become, beside what counts at that place today. */
function Look({ look }: { readonly look: HomeWaterLookView }) {
  const words = (value: number | null | undefined) =>
    value == null ? "–" : numberText(value, look.decimals);
  return (
    <>
      <p role="status" data-look="">
        {look.read} {look.read === 1 ? "row" : "rows"} read, {look.refusedCount} refused.
        {look.missing.length > 0 &&
          ` No value for ${look.missing.map(monthShort).join(", ")}: all twelve months are needed.`}
        {look.ignored.length > 0 && ` Columns not read: ${look.ignored.join(", ")}.`}
      </p>
      {look.refused.length > 0 && (
        <details open={look.refusedCount <= 5}>
          <summary>Refused rows, and why</summary>
          <ul>
            {look.refused.map((row) => (
              <li key={row.line}>
                Line {row.line}, “{row.value}”: {row.says}; {row.remedy}.
              </li>
            ))}
          </ul>
          {look.refusedCount > look.refused.length && (
            <p>and {look.refusedCount - look.refused.length} more</p>
          )}
        </details>
      )}
      <div className={css.wide}>
        <table className={css.table}>
          <caption className={css.soft}>
            Mid-month, {labelInSentence(look.label)}
            {look.unitLabel === "" ? "" : `, ${look.unitLabel}`}.
            {look.beside === null ? " No data there now." : ` In use now: ${look.beside.from}.`}
          </caption>
          <thead>
            <tr>
              <th scope="col">Month</th>
              <th scope="col">from the file</th>
              <th scope="col">values</th>
              <th scope="col">in use now</th>
            </tr>
          </thead>
          <tbody>
            {look.months.map((month, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: twelve months in their order
              <tr key={i}>
                <th scope="row">{monthShort(i + 1)}</th>
                <td>
                  {words(month?.value)}
                  {month?.spread == null ? "" : ` ± ${words(month.spread)}`}
                </td>
                <td>
                  {month?.n ?? 0}
                  {month && month.years.length > 0
                    ? ` in ${month.years.length} ${month.years.length === 1 ? "year" : "years"}`
                    : ""}
                </td>
                <td>{words(look.beside?.months[i])}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

/** Loads a file of a logger or shore station: previewed first, and stored only as previewed. */
export function HomeWaterFile({
  onClose,
  onDone,
}: {
  readonly onClose: () => void;
  readonly onDone: (name: string) => void;
}) {
  const [typed, setTyped] = useState({ name: "", latitude: "", longitude: "", source: "", reason: "" });
  const [quantity, setQuantity] = useState<Quantity>("temperature");
  const [unit, setUnit] = useState<string>("Cel");
  const [decimal, setDecimal] = useState<"." | ",">(".");
  const [file, setFile] = useState<{ readonly name: string; readonly text: string } | null>(null);
  const [look, setLook] = useState<Sent<HomeWaterLookView> | null>(null);
  const [leaveOut, setLeaveOut] = useState(false);
  const [sent, setSent] = useState<Sent<{ id: string }> | null>(null);
  const [busy, setBusy] = useState(false);
  const [asked, setAsked] = useState(false);
  const latitude = numberOf(typed.latitude);
  const longitude = numberOf(typed.longitude);
  const isPlaced = typeof latitude === "number" && typeof longitude === "number";
  const wrong = (field: string) => issueAt(look, field) || issueAt(sent, field);
  const body = () => ({ latitude, longitude, quantity, unit, decimal, text: file?.text ?? "" });
  /** The fields have changed since the preview. */
  const changed = () => {
    setLook(null);
    setSent(null);
    setLeaveOut(false);
  };
  const ask = async () => {
    setAsked(true);
    if (file === null || !isPlaced || busy) return;
    setBusy(true);
    setLook(await send<HomeWaterLookView>("/home-water-series/look", body()));
    setBusy(false);
  };
  const store = async () => {
    setAsked(true);
    const isSaid = [typed.name, typed.source, typed.reason].every((text) => text.trim().length >= 3);
    if (!isSaid || busy) return;
    setBusy(true);
    const { name, source, reason } = typed;
    const answer = await send<{ id: string }>("/home-water-series/file", {
      ...body(),
      name,
      source,
      reason,
      ...(leaveOut ? { leaveOut: true } : {}),
    });
    setBusy(false);
    setSent(answer);
    if (answer.ok) onDone(name);
  };
  const seen = look?.ok ? look.value : null;
  const refusal = [look, sent].find((each) => each !== null && !each.ok);
  const text = (key: keyof typeof typed, label: string, hint: string, isNeeded: boolean) => (
    <Field
      label={label}
      hint={hint}
      wrong={(isNeeded ? needed(typed[key], asked && seen !== null) : "") || wrong(key)}
    >
      {(links) => (
        <input
          {...links}
          value={typed[key]}
          onChange={(e) => setTyped({ ...typed, [key]: e.target.value })}
        />
      )}
    </Field>
  );
  const place = (key: "latitude" | "longitude", label: string, value: number | null | undefined) => (
    <Field
      label={label}
      hint="degrees"
      wrong={(asked && typeof value !== "number" ? "required, a number" : "") || wrong(key)}
    >
      {(links) => (
        <input
          {...links}
          inputMode="text"
          value={typed[key]}
          onChange={(e) => {
            setTyped({ ...typed, [key]: e.target.value });
            changed();
          }}
        />
      )}
    </Field>
  );
  return (
    <Dialog title="Load a home water file" onClose={onClose}>
      <form
        className={css.form}
        onSubmit={(event) => {
          event.preventDefault();
          void (seen === null ? ask() : store());
        }}
      >
        <p className={css.soft}>
          A CSV with the columns date (2024-03-31) or month (1 to 12), and value. A unit column is optional;
          so is spread in a file by month.
        </p>
        <Field
          label="File"
          hint={file?.name ?? ""}
          wrong={(asked && file === null ? "choose a file" : "") || wrong("text")}
        >
          {(links) => (
            <input
              {...links}
              type="file"
              accept=".csv,.txt"
              onChange={(e) => {
                const [chosen] = e.target.files ?? [];
                changed();
                if (chosen) void chosen.text().then((read) => setFile({ name: chosen.name, text: read }));
              }}
            />
          )}
        </Field>
        <div className={css.two}>
          {place("latitude", "Latitude, north positive", latitude)}
          {place("longitude", "Longitude, east positive", longitude)}
          <Field label="Quantity">
            {(links) => (
              <select
                {...links}
                value={quantity}
                onChange={(e) => {
                  const next = e.target.value as Quantity;
                  setQuantity(next);
                  setUnit(UNITS[next][0][0]);
                  changed();
                }}
              >
                <option value="temperature">Temperature</option>
                <option value="salinity">Salinity</option>
              </select>
            )}
          </Field>
          <Field label="Unit of the values" hint="if the file gives none">
            {(links) => (
              <select
                {...links}
                value={unit}
                onChange={(e) => {
                  setUnit(e.target.value);
                  changed();
                }}
              >
                {UNITS[quantity].map(([id, label]) => (
                  <option key={id} value={id}>
                    {label}
                  </option>
                ))}
              </select>
            )}
          </Field>
          <Field label="Decimal sign">
            {(links) => (
              <select
                {...links}
                value={decimal}
                onChange={(e) => {
                  setDecimal(e.target.value === "," ? "," : ".");
                  changed();
                }}
              >
                <option value=".">point</option>
                <option value=",">comma</option>
              </select>
            )}
          </Field>
        </div>
        {seen !== null && (
          <>
            <Look look={seen} />
            {text("name", "Name of the place", "the name used here", true)}
            {text("source", "Source", "which logger or station, which years, who downloaded it", true)}
            {text("reason", "Reason", "why use it instead of the climatology", true)}
            {seen.refusedCount > 0 && seen.missing.length === 0 && (
              <label className={css.check}>
                <input type="checkbox" checked={leaveOut} onChange={(e) => setLeaveOut(e.target.checked)} />{" "}
                Leave out the refused rows
              </label>
            )}
          </>
        )}
        {refusal !== undefined && refusal !== null && !refusal.ok && (
          <p className={css.wrong} role="alert">
            {refusal.says} {refusal.issues.map((issue) => `${issue.says}: ${issue.remedy}.`).join(" ")}
          </p>
        )}
        <p className={css.buttons}>
          <Button kind="main" type="submit" busy={busy} disabled={seen !== null && seen.missing.length > 0}>
            {seen === null ? "Check the file" : "Load it"}
          </Button>
          <Button onClick={onClose}>Cancel</Button>
        </p>
      </form>
    </Dialog>
  );
}

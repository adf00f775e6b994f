"use client";

import { useRef, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import css from "#app/_components/controls/forms.module.css";
import type { ImportView, LookView } from "#contract/imports.ts";
import type { ImportPlan } from "#core/importing/plan.ts";
import type { ImportReport } from "#core/importing/report.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { ImportColumns } from "./import-columns.tsx";
import { draftOf, type ImportChoices, type ImportDraft, namesOf, planOf } from "./import-draft.ts";
import { fileFingerprint, lookAgain, look as lookAt, type Ran, storeFile, tryFile } from "./import-file.ts";
import { ImportReportView } from "./import-report.tsx";

const FORMATS = [
  ["iso", "2024-03-31 14:05"],
  ["dmy", "31/03/2024 14:05 (day first)"],
  ["mdy", "03/31/2024 14:05 (month first)"],
  ["epoch_s", "seconds since 1970"],
  ["epoch_ms", "milliseconds since 1970"],
] as const;
const TWICE = [
  ["refuse", "refuse those rows"],
  ["first", "always take the first"],
  ["second", "always take the second"],
  ["order", "in file order: first pass, then second"],
] as const;
const DELIMITERS = [
  [",", "comma"],
  [";", "semicolon"],
  ["\t", "tab"],
  ["|", "vertical bar"],
  [" ", "space"],
] as const;

interface Opened {
  readonly file: File;
  readonly look: LookView;
  /** An import of this very file that was stopped. */
  readonly stopped: ImportView | null;
}

/** A file chosen, read as a person says, tried, and then stored. */
export function ImportForm({
  choices,
  runs,
  clock,
  onChanged,
}: {
  readonly choices: ImportChoices;
  readonly runs: readonly ImportView[];
  readonly clock: ZoneClock;
  readonly onChanged: () => void;
}) {
  const [opened, setOpened] = useState<Opened | null>(null);
  const [draft, setDraft] = useState<ImportDraft | null>(null);
  const [tried, setTried] = useState<{ readonly plan: ImportPlan; readonly report: ImportReport } | null>(
    null,
  );
  const [stored, setStored] = useState<ImportView | null>(null);
  const [busy, setBusy] = useState<{ readonly says: string; readonly share: number } | null>(null);
  const [wrong, setWrong] = useState("");
  const stop = useRef<AbortController | null>(null);

  const choose = async (file: File | undefined) => {
    setOpened(null);
    setTried(null);
    setStored(null);
    setWrong("");
    if (file === undefined) return;
    const [seen, fingerprint] = await Promise.all([lookAt(file), fileFingerprint(file)]);
    if (!seen.ok) {
      setWrong(seen.says);
      return;
    }
    const stopped = runs.find((run) => run.state === "running" && run.fingerprint === fingerprint) ?? null;
    setOpened({ file, look: seen.value.look, stopped });
    setDraft(draftOf(seen.value.look, seen.value.encoding));
  };

  async function through<T>(
    says: string,
    run: (watch: Parameters<typeof tryFile>[2]) => Promise<Ran<T>>,
  ): Promise<T | null> {
    const control = new AbortController();
    stop.current = control;
    setWrong("");
    setBusy({ says, share: 0 });
    const ran = await run({ signal: control.signal, onProgress: (share) => setBusy({ says, share }) });
    setBusy(null);
    if (!ran.ok) setWrong(ran.says);
    else if (ran.stopped)
      setWrong("Stopped. Readings stored so far are kept. Choose the same file again to continue.");
    return ran.ok && !ran.stopped ? ran.value : null;
  }
  const attempt = async (file: File, plan: ImportPlan) => {
    setTried(null);
    const report = await through("Checking the file, nothing is stored", (watch) =>
      tryFile(file, plan, watch),
    );
    if (report !== null) setTried({ plan, report });
  };
  const store = async (file: File, plan: ImportPlan) => {
    const run = await through("Storing", (watch) => storeFile(file, plan, watch));
    if (run !== null) setStored(run);
    onChanged();
  };

  const set = (by: Partial<ImportDraft>) => {
    setTried(null);
    if (!draft || !opened) return;
    const next = { ...draft, ...by };
    setDraft(next);
    const headingLine = Number(next.headingLine);
    if ((by.delimiter ?? by.encoding ?? by.headingLine) === undefined || !(headingLine >= 1)) return;
    lookAgain(opened.file, { ...next, headingLine }).then((seen) => {
      setWrong(seen.ok ? "" : seen.says);
      if (seen.ok) setOpened({ ...opened, look: seen.value });
    }, console.error);
  };
  const names = opened && draft ? namesOf(draft, opened.look) : [];
  const plan = draft ? planOf(draft, names) : "";
  const zones = [...new Set(choices.systems.map((one) => one.zone))];
  const columns = opened?.look.header.filter((name) => name !== "") ?? [];
  const select = (
    label: string,
    hint: string,
    value: string,
    options: readonly (readonly [string, string])[],
    pick: (value: string) => void,
  ) => (
    <Field label={label} hint={hint}>
      {(links) => (
        <select {...links} value={value} onChange={(e) => pick(e.target.value)}>
          {options.map(([id, says]) => (
            <option key={id} value={id}>
              {says}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
  const columnOptions = (none: string) => [
    ["", none] as const,
    ...columns.map((name) => [name, name] as const),
  ];

  return (
    <section aria-labelledby="import">
      <h2 id="import">Import a file</h2>
      <Field label="CSV file" hint="One row per time, or one row per value. Large files are sent in parts.">
        {(links) => (
          <input
            {...links}
            type="file"
            accept=".csv,.txt,.tsv,text/csv,text/plain"
            onChange={(e) => void choose(e.target.files?.[0])}
          />
        )}
      </Field>
      {opened?.stopped && stored === null && (
        <div className={css.form} data-stopped="">
          <p>
            An import of this file was stopped at{" "}
            {Math.floor((100 * opened.stopped.position.bytes) / opened.stopped.bytes)} %. It was started by{" "}
            {opened.stopped.begunBy} on {clock.full(opened.stopped.begun)}.
          </p>
          <p className={css.buttons}>
            <Button
              kind="main"
              busy={busy !== null}
              onClick={() => opened.stopped && void store(opened.file, opened.stopped.plan)}
            >
              Continue the import
            </Button>
          </p>
        </div>
      )}
      {opened && draft && stored === null && (
        <div className={css.form}>
          <div className={css.two}>
            {select("Columns separated by", "", draft.delimiter, DELIMITERS, (delimiter) =>
              set({ delimiter }),
            )}
            {select(
              "Decimal sign",
              "Never guessed",
              draft.decimal,
              [
                [".", "point: 8.12"],
                [",", "comma: 8,12"],
              ],
              (value) => set({ decimal: value === "," ? "," : "." }),
            )}
            {select(
              "Text encoding",
              "Try the other one if names look wrong",
              draft.encoding,
              [
                ["utf-8", "UTF-8"],
                ["windows-1252", "Windows-1252"],
              ],
              (value) => set({ encoding: value === "utf-8" ? "utf-8" : "windows-1252" }),
            )}
            <Field label="Heading line">
              {(links) => (
                <input
                  {...links}
                  inputMode="numeric"
                  value={draft.headingLine}
                  onChange={(e) => set({ headingLine: e.target.value })}
                />
              )}
            </Field>
            {select(
              "Layout",
              "",
              draft.kind,
              [
                ["wide", "wide: one column per quantity"],
                ["long", "long: one row per value"],
              ],
              (value) => set({ kind: value === "long" ? "long" : "wide" }),
            )}
          </div>
          <h3>Time</h3>
          <div className={css.two}>
            {select("Time column", "", draft.timeColumn, columnOptions("choose"), (timeColumn) =>
              set({ timeColumn }),
            )}
            {select(
              "Second time column",
              "If date and time are in separate columns",
              draft.secondTimeColumn,
              columnOptions("none"),
              (secondTimeColumn) => set({ secondTimeColumn }),
            )}
            {select("Time format", "", draft.format, [["", "choose"], ...FORMATS], (value) =>
              set({ format: FORMATS.find(([id]) => id === value)?.[0] ?? "" }),
            )}
            <Field
              label="Time zone"
              hint={`A zone (${zones.join(", ")}), an offset such as -07:00, or Z. Empty: every time includes its own offset`}
            >
              {(links) => (
                <>
                  <input
                    {...links}
                    list="import-zones"
                    value={draft.zone}
                    autoComplete="off"
                    onChange={(e) => set({ zone: e.target.value.trim() })}
                  />
                  <datalist id="import-zones">
                    {[...zones, "Z"].map((zone) => (
                      <option key={zone} value={zone} />
                    ))}
                  </datalist>
                </>
              )}
            </Field>
            {select(
              "Repeated hour",
              "When clocks go back in autumn. Times in the hour skipped in spring are always refused",
              draft.twice,
              TWICE,
              (value) => set({ twice: TWICE.find(([id]) => id === value)?.[0] ?? "refuse" }),
            )}
          </div>
          {draft.kind === "long" && (
            <div className={css.two}>
              {select(
                "Name column",
                "Says what each row measures",
                draft.nameColumn,
                columnOptions("choose"),
                (nameColumn) => set({ nameColumn }),
              )}
              {select("Value column", "", draft.valueColumn, columnOptions("choose"), (valueColumn) =>
                set({ valueColumn }),
              )}
            </div>
          )}
          <Field
            label="Text that means no value"
            hint="One per line, such as NA or ---. Empty cells always mean no value"
          >
            {(links) => (
              <textarea
                {...links}
                rows={2}
                value={draft.missing}
                onChange={(e) => set({ missing: e.target.value })}
              />
            )}
          </Field>
          <h3>Where the values go</h3>
          <ImportColumns
            names={names}
            draft={draft}
            look={opened.look}
            choices={choices}
            onChange={(targets) => set({ targets })}
          />
          <p className={css.buttons}>
            <Button
              kind={tried ? "plain" : "main"}
              busy={busy !== null}
              onClick={() => (typeof plan === "string" ? setWrong(plan) : void attempt(opened.file, plan))}
            >
              Show what would be stored
            </Button>
          </p>
        </div>
      )}
      {busy && (
        <p className={css.progress} role="status">
          <progress max={1} value={busy.share} aria-label={busy.says} /> {busy.says}:{" "}
          {Math.floor(100 * busy.share)} % <Button onClick={() => stop.current?.abort()}>Stop</Button>
        </p>
      )}
      {wrong !== "" && (
        <p className={css.wrong} role="alert">
          {wrong}
        </p>
      )}
      {opened && tried && stored === null && (
        <div className={css.form}>
          <h3>What would be stored</h3>
          <ImportReportView report={tried.report} done={false} clock={clock} />
          <p className={css.buttons}>
            <Button kind="main" busy={busy !== null} onClick={() => void store(opened.file, tried.plan)}>
              Store it
            </Button>
          </p>
        </div>
      )}
      {stored && (
        <div className={css.form} role="status">
          <h3>{stored.file} is stored</h3>
          <p>
            It is being evaluated now. Findings from it are late, so nobody is alerted. You can withdraw the
            whole import below.
          </p>
          <ImportReportView report={stored.report} done clock={clock} />
        </div>
      )}
    </section>
  );
}

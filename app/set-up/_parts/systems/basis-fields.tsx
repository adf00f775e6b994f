"use client";

import { Field } from "#app/_components/controls/field.tsx";
import css from "#app/_components/controls/forms.module.css";
import { numberOf } from "#app/_components/controls/typed-number.ts";
import type { SystemSetUpView } from "#contract/set-up-forms.ts";
import { electrodeWords } from "#core/set-up/probe-basis.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";

type Basis = SystemSetUpView["streams"][number]["basis"];

/** What is typed of a pH or ORP probe; `since` is a datetime-local text, empty for now. */
export interface BasisDraft {
  readonly phScale: Basis[number]["phScale"];
  readonly phOffset: string;
  readonly electrode: Basis[number]["electrode"];
  readonly since: string;
}

export function basisDraft(basis: Basis): BasisDraft | null {
  const held = basis.at(-1);
  if (held === undefined) return null;
  const { phScale, phOffset, electrode } = held;
  return { phScale, phOffset: phOffset === 0 ? "" : String(phOffset), electrode, since: "" };
}

export const offsetWrong = (typed: string): string => {
  const value = numberOf(typed);
  return value === undefined || Math.abs(value ?? 0) > 1 ? "must be a pH between -1 and 1" : "";
};

const ELECTRODES: readonly BasisDraft["electrode"][] = ["ag-agcl-3m", "ag-agcl-3.5m", "ag-agcl-saturated"];

/** On which scale a pH probe reads, or against which electrode an ORP probe does, since when, and what it was before. */
export function BasisFields({
  quantity,
  basis,
  draft,
  clock,
  wrong,
  onChange,
}: {
  readonly quantity: string;
  readonly basis: Basis;
  readonly draft: BasisDraft;
  readonly clock: ZoneClock;
  readonly wrong: (field: string) => string;
  readonly onChange: (draft: BasisDraft) => void;
}) {
  return (
    <>
      {quantity === "ph" ? (
        <>
          <Field
            label="pH scale"
            hint="The scale of the calibration buffers. In sea water the two differ by 0.13 to 0.15"
            wrong={wrong("phScale")}
          >
            {(links) => (
              <select
                {...links}
                value={draft.phScale}
                onChange={(e) =>
                  onChange({ ...draft, phScale: e.target.value === "total" ? "total" : "nbs" })
                }
              >
                <option value="nbs">NBS: standard buffers, pH 4, 7, 10</option>
                <option value="total">total: tris buffer in sea water</option>
              </select>
            )}
          </Field>
          <Field
            label="Offset, pH"
            hint="Added to its readings wherever a value is computed from them; the reading itself stays as sent. Empty: none"
            wrong={offsetWrong(draft.phOffset) || wrong("phOffset")}
          >
            {(links) => (
              <input
                {...links}
                value={draft.phOffset}
                inputMode="text"
                onChange={(e) => onChange({ ...draft, phOffset: e.target.value })}
              />
            )}
          </Field>
        </>
      ) : (
        <Field label="Reference electrode" hint="Printed on the probe" wrong={wrong("electrode")}>
          {(links) => (
            <select
              {...links}
              value={draft.electrode}
              onChange={(e) =>
                onChange({
                  ...draft,
                  electrode: ELECTRODES.find((each) => each === e.target.value) ?? draft.electrode,
                })
              }
            >
              {ELECTRODES.map((each) => (
                <option key={each} value={each}>
                  {electrodeWords(each)}
                </option>
              ))}
            </select>
          )}
        </Field>
      )}
      <Field
        label="Since"
        hint={`When it was calibrated. Empty: now. ${clock.zone} time. Data from then on is evaluated again`}
        wrong={wrong("basisFrom")}
      >
        {(links) => (
          <input
            {...links}
            type="datetime-local"
            value={draft.since}
            onChange={(e) => onChange({ ...draft, since: e.target.value })}
          />
        )}
      </Field>
      {basis.length > 1 && (
        <ul className={css.soft} aria-label="Settings, newest first">
          {[...basis].reverse().map(({ from, words }) => (
            <li key={from}>
              {from === null ? `${words} from the start` : `${words} from ${clock.full(from)}`}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

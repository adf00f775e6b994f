"use client";

import { useState } from "react";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import { numberOf } from "#app/_components/controls/typed-number.ts";
import type { Change } from "#app/_components/words/change.ts";
import { changeOf, limitsWords, rangeWords } from "#app/_components/words/habitat-words.ts";
import type { AskedBand, HabitatAnswer } from "#contract/habitat.ts";
import { monthRuns } from "#core/time/month-names.ts";
import { monthShort } from "#core/time/names.ts";
import { Moment, ReasonField, useFrom } from "../dated-fields.tsx";

interface Shared {
  readonly system: string;
  readonly zone: string;
  readonly now: number;
  readonly band: AskedBand;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}

/** A person confirms the action limits that follow the residents. */
export function ConfirmForm({ system, zone, now, band, onClose, onDone }: Shared) {
  const [reason, setReason] = useState("");
  const { from, setFrom, sent } = useFrom(now, zone);
  const month = band.months.find((each) => each.month === band.awaits[0]);
  return (
    <FormDialog<HabitatAnswer>
      title={`Confirm the limits for ${band.label}`}
      path={`/systems/${encodeURIComponent(system)}/bands/confirm`}
      submit="Confirm the limits"
      fields={["reason", "from"]}
      body={() => {
        if (reason.trim().length < 3 || sent === null) return null;
        return { quantity: band.quantity, reason, ...sent };
      }}
      onClose={onClose}
      onDone={(answer) => onDone(changeOf(`The limits for ${band.label} are confirmed.`, answer))}
    >
      {(wrong, asked) => (
        <>
          {month !== undefined && (
            <p>
              {monthShort(month.month)}, {band.unitLabel}. Now: {rangeWords(month.kept, band)},{" "}
              {limitsWords(month.kept, band)}. Then: {rangeWords(month.asked, band)},{" "}
              {limitsWords(month.asked, band)}.
            </p>
          )}
          {band.origin === "person" && (
            <p className={css.look}>
              The band set by hand ends at that time. From then on this quantity follows the residents.
            </p>
          )}
          <Moment
            label="From"
            zone={zone}
            hint={`${zone} time. Data from then on is evaluated again`}
            value={from}
            wrong={wrong("from")}
            onChange={setFrom}
          />
          <ReasonField value={reason} asked={asked} wrong={wrong("reason")} onChange={setReason} />
        </>
      )}
    </FormDialog>
  );
}

const NUMBERS = [
  ["low", "Low edge"],
  ["high", "High edge"],
  ["actionLow", "Action limit below"],
  ["actionHigh", "Action limit above"],
] as const;

/** A compromise for the months in which the residents have nothing in common. */
export function CompromiseForm({ system, zone, now, band, onClose, onDone }: Shared) {
  const [reason, setReason] = useState("");
  const { from, setFrom, sent } = useFrom(now, zone);
  const [typed, setTyped] = useState({ low: "", high: "", actionLow: "", actionHigh: "" });
  const [months, setMonths] = useState<readonly number[]>(band.conflicts);
  return (
    <FormDialog<HabitatAnswer>
      title={`A compromise for ${band.label}`}
      path={`/systems/${encodeURIComponent(system)}/compromises`}
      submit="Sign the compromise"
      fields={["reason", "from", "months", ...NUMBERS.map(([key]) => key)]}
      body={() => {
        const [low, high, actionLow, actionHigh] = NUMBERS.map(([key]) => numberOf(typed[key]));
        if (
          typeof low !== "number" ||
          typeof high !== "number" ||
          actionLow === undefined ||
          actionHigh === undefined
        )
          return null;
        if (reason.trim().length < 3 || sent === null || months.length === 0) return null;
        return {
          quantity: band.quantity,
          months,
          low,
          high,
          actionLow,
          actionHigh,
          reason,
          ...sent,
        };
      }}
      onClose={onClose}
      onDone={(answer) => onDone(changeOf(`The compromise for ${band.label} is signed.`, answer))}
    >
      {(wrong, asked) => (
        <>
          <p className={css.soft}>
            It sets the target band and limits for these animals in these months. The gap stays visible. If
            the animals change, a new compromise is needed.
          </p>
          <fieldset className={css.grants}>
            <legend>Months ({months.length === 0 ? "none" : monthRuns(months, monthShort)})</legend>
            <div className={css.monthBoxes}>
              {band.conflicts.map((month) => (
                <label key={month}>
                  <input
                    type="checkbox"
                    checked={months.includes(month)}
                    onChange={(e) =>
                      setMonths(
                        e.target.checked
                          ? [...months, month].sort((a, b) => a - b)
                          : months.filter((each) => each !== month),
                      )
                    }
                  />{" "}
                  {monthShort(month)}
                </label>
              ))}
            </div>
          </fieldset>
          <div className={css.two}>
            {NUMBERS.map(([key, label]) => (
              <Field
                key={key}
                label={`${label}, ${band.unitLabel}`}
                hint={key.startsWith("action") ? "empty: the standard margin beyond the edge" : ""}
                wrong={
                  (asked && !key.startsWith("action") && typeof numberOf(typed[key]) !== "number"
                    ? "required, a number"
                    : "") || wrong(key)
                }
              >
                {(links) => (
                  <input
                    {...links}
                    inputMode="decimal"
                    value={typed[key]}
                    onChange={(e) => setTyped({ ...typed, [key]: e.target.value })}
                  />
                )}
              </Field>
            ))}
          </div>
          <Moment
            label="From"
            zone={zone}
            hint={`${zone} time`}
            value={from}
            wrong={wrong("from")}
            onChange={setFrom}
          />
          <ReasonField
            value={reason}
            asked={asked}
            wrong={wrong("reason")}
            hint="Shown with the band, with your name and the date"
            onChange={setReason}
          />
        </>
      )}
    </FormDialog>
  );
}

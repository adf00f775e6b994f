"use client";

import { useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog, needed } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import { numberOf } from "#app/_components/controls/typed-number.ts";
import type { Change } from "#app/_components/words/change.ts";
import { changeOf, dayWords } from "#app/_components/words/habitat-words.ts";
import type { HabitatAnswer } from "#contract/habitat.ts";
import type { LightPlansView, LightPlanView } from "#contract/light-plans.ts";
import { monthShort } from "#core/time/names.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { Moment, ReasonField, useFrom } from "../dated-fields.tsx";
import { daylightMonths, type LightDraft, lightDraft, lightWrong, onOff, scheduleOf } from "./light-draft.ts";

interface Shared {
  readonly view: LightPlansView;
  readonly onClose: () => void;
  readonly onDone: (change: Change) => void;
}
const HALF_YEAR = "182";

/** Home latitude, the calendar the animals live by, and twelve lengths from the daylight there. */
function HomeFields({
  view,
  draft,
  wrong,
  onChange,
  onFilled,
}: {
  readonly view: LightPlansView;
  readonly draft: LightDraft;
  readonly wrong: (field: string) => string;
  readonly onChange: (draft: LightDraft) => void;
  readonly onFilled: (draft: LightDraft, source: string) => void;
}) {
  const latitude = numberOf(draft.latitude);
  const shift = numberOf(draft.shift) ?? 0;
  const fill = () => {
    const months =
      typeof latitude === "number"
        ? daylightMonths(latitude, shift, new Date(view.now).getUTCFullYear())
        : null;
    if (months === null) return;
    const moved = shift === 0 ? "" : `, ${shift} days on`;
    onFilled(
      { ...draft, shape: "months", months },
      `daylight at ${draft.latitude.trim()}°${moved}, sun's centre 0.833° below the horizon`,
    );
  };
  const homes = view.homes.map((home) => `${home.species} ${home.latitude}°`).join(", ");
  return (
    <>
      <div className={css.two}>
        <Field
          label="Home latitude to follow"
          hint={`degrees, north positive; empty: none${homes === "" ? "" : `. Residents: ${homes}`}`}
          wrong={wrong("latitude")}
        >
          {(links) => (
            <input
              {...links}
              value={draft.latitude}
              onChange={(e) => onChange({ ...draft, latitude: e.target.value })}
            />
          )}
        </Field>
        <Field
          label="Calendar ahead by, days"
          hint={`0: the site's seasons; ${HALF_YEAR}: the other hemisphere's seasons`}
          wrong={wrong("shiftDays")}
        >
          {(links) => (
            <input
              {...links}
              value={draft.shift}
              onChange={(e) => onChange({ ...draft, shift: e.target.value })}
            />
          )}
        </Field>
      </div>
      <p>
        <Button disabled={typeof latitude !== "number" || Math.abs(latitude) > 90} onClick={fill}>
          Use the day lengths there
        </Button>
      </p>
    </>
  );
}

/** Lamps go on and off at the same times all year. */
function ClockFields({
  draft,
  wrong,
  onChange,
}: {
  readonly draft: LightDraft;
  readonly wrong: (field: string) => string;
  readonly onChange: (draft: LightDraft) => void;
}) {
  return (
    <div className={css.two}>
      {(
        [
          ["on", "On at"],
          ["off", "Off at"],
        ] as const
      ).map(([field, label]) => (
        <Field key={field} label={label} hint="site time, halfway up the ramp" wrong={wrong(field)}>
          {(links) => (
            <input
              {...links}
              type="time"
              value={draft[field]}
              onChange={(e) => onChange({ ...draft, [field]: e.target.value })}
            />
          )}
        </Field>
      ))}
    </div>
  );
}

/** A length for the 15th of each month, linear between, about one middle. */
function MonthFields({
  draft,
  wrong,
  onChange,
}: {
  readonly draft: LightDraft;
  readonly wrong: (field: string) => string;
  readonly onChange: (draft: LightDraft) => void;
}) {
  return (
    <>
      <Field label="Middle of the light period" hint="site time" wrong={wrong("middle")}>
        {(links) => (
          <input
            {...links}
            type="time"
            value={draft.middle}
            onChange={(e) => onChange({ ...draft, middle: e.target.value })}
          />
        )}
      </Field>
      <div className={css.two}>
        {draft.months.map((typed, i) => (
          <Field
            key={monthShort(i + 1)}
            label={`15 ${monthShort(i + 1)}, hours`}
            hint={onOff(numberOf(typed), draft.middle)}
            wrong={wrong(`month${i + 1}`)}
          >
            {(links) => (
              <input
                {...links}
                inputMode="decimal"
                value={typed}
                onChange={(e) =>
                  onChange({
                    ...draft,
                    months: draft.months.map((each, j) => (j === i ? e.target.value : each)),
                  })
                }
              />
            )}
          </Field>
        ))}
      </div>
    </>
  );
}

/** A new schedule from an instant on; the one before it ends there. */
export function LightForm({ view, onClose, onDone }: Shared) {
  const inForce = view.plans.find(({ stand }) => stand === "in force") ?? null;
  const [draft, setDraft] = useState(() => lightDraft(inForce));
  const [reason, setReason] = useState("");
  const [source, setSource] = useState("");
  const { from, setFrom, sent } = useFrom(view.now, view.zone);
  const later = view.plans.filter(({ stand }) => stand === "to come");
  return (
    <FormDialog<HabitatAnswer>
      title={`Light schedule for ${view.name}`}
      path={`/systems/${encodeURIComponent(view.system)}/light-plans`}
      submit="Set the schedule"
      fields={["hours", "middle", "latitude", "shiftDays", "validFrom", "reason", "source"]}
      body={() => {
        const schedule = scheduleOf(draft);
        if (schedule === null || sent === null || reason.trim().length < 3 || source.trim().length < 3)
          return null;
        const begins = sent.from === undefined ? {} : { validFrom: sent.from };
        return { ...schedule, ...begins, reason, source };
      }}
      onClose={onClose}
      onDone={(answer) =>
        onDone(changeOf("Light schedule set. It does not control the lamps. Withdraw it to undo.", answer))
      }
    >
      {(refused, asked) => {
        const typedWrong = asked ? lightWrong(draft) : {};
        const wrong = (field: string) => typedWrong[field] ?? refused(field);
        return (
          <>
            <p className={css.soft}>
              What the lamps should do. Measured light is compared with it each day. It does not control the
              lamps: set those at their own controller.
            </p>
            <Field label="Type" wrong={refused("hours")}>
              {(links) => (
                <select
                  {...links}
                  value={draft.shape}
                  onChange={(e) =>
                    setDraft({ ...draft, shape: e.target.value === "clock" ? "clock" : "months" })
                  }
                >
                  <option value="clock">on and off at the same times all year</option>
                  <option value="months">a length for each month, to follow the seasons</option>
                </select>
              )}
            </Field>
            {draft.shape === "clock" ? (
              <ClockFields draft={draft} wrong={wrong} onChange={setDraft} />
            ) : (
              <MonthFields draft={draft} wrong={wrong} onChange={setDraft} />
            )}
            <HomeFields
              view={view}
              draft={draft}
              wrong={wrong}
              onChange={setDraft}
              onFilled={(filled, from) => {
                setDraft(filled);
                setSource(from);
              }}
            />
            <Moment
              label="From"
              zone={view.zone}
              hint={`${view.zone} time. If it is in the past, the light is evaluated again from then on`}
              value={from}
              wrong={(asked && sent === null ? "required, a date and a time" : "") || refused("validFrom")}
              onChange={setFrom}
            />
            {later.length > 0 && (
              <p className={css.look}>
                It also replaces the schedules already planned:{" "}
                {later.map((plan) => dayWords(plan.from, clockOf(view.zone), "")).join(", ")}.
              </p>
            )}
            <Field
              label="Source"
              hint="for these times: a day-length table, a handbook, a person"
              wrong={needed(source, asked) || refused("source")}
            >
              {(links) => <input {...links} value={source} onChange={(e) => setSource(e.target.value)} />}
            </Field>
            <ReasonField value={reason} asked={asked} wrong={refused("reason")} onChange={setReason} />
          </>
        );
      }}
    </FormDialog>
  );
}

/** Withdraws one as though it had not been set. */
export function WithdrawLight({ view, plan, onClose, onDone }: Shared & { readonly plan: LightPlanView }) {
  const [reason, setReason] = useState("");
  const before = view.plans.some(({ to, stand }) => to === plan.from && stand !== "void");
  return (
    <FormDialog<HabitatAnswer>
      title={`Withdraw the light schedule of ${dayWords(plan.from, clockOf(view.zone), "")}`}
      path={`/light-plans/${encodeURIComponent(plan.id)}/withdraw`}
      submit="Withdraw"
      fields={["reason"]}
      body={() => (reason.trim().length < 3 ? null : { reason })}
      onClose={onClose}
      onDone={(answer) => onDone(changeOf("Light schedule withdrawn.", answer))}
    >
      {(wrong, asked) => (
        <>
          <p>
            {before
              ? "It is treated as if it had never been set: the schedule before it continues."
              : "It is treated as if it had never been set: no light is planned for that time, so measured light is not compared with anything."}
          </p>
          <ReasonField
            value={reason}
            asked={asked}
            wrong={wrong("reason")}
            hint="Kept in the logbook and the audit trail, with your name"
            onChange={setReason}
          />
        </>
      )}
    </FormDialog>
  );
}

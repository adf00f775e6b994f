"use client";

import { lazy, Suspense, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import { useAnswer } from "#app/_components/live/use-answer.ts";
import type { Change } from "#app/_components/words/change.ts";
import { dayWords } from "#app/_components/words/habitat-words.ts";
import type { LightPlansView, LightPlanView } from "#contract/light-plans.ts";
import { monthShort } from "#core/time/names.ts";
import { clockOf, type ZoneClock } from "#core/time/zone-clock.ts";
import { Unanswered } from "../unanswered.tsx";
import { onOff } from "./light-draft.ts";

const forms = () => import("./light-forms.tsx");
const LightForm = lazy(() => forms().then((m) => ({ default: m.LightForm })));
const WithdrawLight = lazy(() => forms().then((m) => ({ default: m.WithdrawLight })));

const STANDS: Readonly<Record<LightPlanView["stand"], string>> = {
  "in force": "in force",
  "to come": "planned",
  over: "ended",
  void: "withdrawn, or replaced from its start",
};

function lengthWords(plan: LightPlanView): string {
  const [all = 0] = plan.hours;
  if (plan.hours.length === 1) return `${all} h, ${onOff(all, plan.middle)}, all year`;
  return `${Math.min(...plan.hours)} to ${Math.max(...plan.hours)} h by month, centred on ${plan.middle}`;
}
function homeWords({ latitude, shiftDays }: LightPlanView): string {
  const shift =
    shiftDays === 0 ? "" : `, calendar ${Math.abs(shiftDays)} days ${shiftDays > 0 ? "ahead" : "behind"}`;
  return latitude === null ? shift : `, following ${Math.abs(latitude)}° ${latitude < 0 ? "S" : "N"}${shift}`;
}

function Schedule({
  plan,
  clock,
  onWithdraw,
}: {
  readonly plan: LightPlanView;
  readonly clock: ZoneClock;
  readonly onWithdraw: (() => void) | null;
}) {
  const isVoid = plan.stand === "void";
  const from = `${dayWords(plan.from, clock, "")} ${clock.clock(plan.from)}`;
  const to = plan.to === null || isVoid ? "" : ` to ${dayWords(plan.to, clock, "")} ${clock.clock(plan.to)}`;
  return (
    <li data-light-plan={plan.stand}>
      <div>
        <p>
          <b>{lengthWords(plan)}</b>
          {homeWords(plan)}
        </p>
        <p className={css.soft}>
          {STANDS[plan.stand]}, from {from}
          {to} · {plan.setBy}, {dayWords(plan.recorded, clock, "")}: {plan.reason} · {plan.source}
        </p>
        {plan.hours.length > 1 && (
          <details>
            <summary>On and off by month</summary>
            <p className={css.soft}>
              {plan.hours
                .map((hours, i) => `15 ${monthShort(i + 1)} ${hours} h, ${onOff(hours, plan.middle)}`)
                .join(" · ")}
              . Linear in between. {clock.zone} time.
            </p>
          </details>
        )}
      </div>
      {onWithdraw !== null && !isVoid && (
        <p className={css.rowButtons}>
          <Button aria-label={`Withdraw the light schedule of ${from}`} onClick={onWithdraw}>
            Withdraw
          </Button>
        </p>
      )}
    </li>
  );
}

/** The planned light of a system: the schedule in force, those before and to come, and the way to set and to withdraw one. */
export function LightSection({
  code,
  may,
  onChange,
}: {
  readonly code: string;
  readonly may: boolean;
  readonly onChange: (change: Change) => void;
}) {
  const { answer, again } = useAnswer<LightPlansView>(`/systems/${encodeURIComponent(code)}/light-plans`);
  const [open, setOpen] = useState<LightPlanView | "new" | null>(null);
  if (!answer?.ok)
    return (
      <section aria-label="Light">
        <h2 id="light">Light</h2>
        <Unanswered answer={answer} what="the light schedule" onAgain={again} />
      </section>
    );
  const view = answer.value;
  const clock = clockOf(view.zone);
  const shared = {
    view,
    onClose: () => setOpen(null),
    onDone: (change: Change) => {
      setOpen(null);
      again();
      onChange(change);
    },
  };
  const current = view.plans.filter(({ stand }) => stand === "in force" || stand === "to come");
  const past = view.plans.filter((plan) => !current.includes(plan));
  const listed = (plans: readonly LightPlanView[]) => (
    <ul className={css.stays}>
      {plans.map((plan) => (
        <Schedule key={plan.id} plan={plan} clock={clock} onWithdraw={may ? () => setOpen(plan) : null} />
      ))}
    </ul>
  );
  return (
    <section aria-labelledby="light">
      <div className={css.sectionHead}>
        <h2 id="light">Light</h2>
        {may && <Button onClick={() => setOpen("new")}>Set the light schedule</Button>}
      </div>
      <p className={css.soft}>
        {view.today === null
          ? "No light is planned today, so measured light is not compared with anything."
          : `Planned today: ${clock.clock(view.today.from)} to ${clock.clock(view.today.to)} (${clock.name(view.today.from)}).`}{" "}
        {view.measured ? "" : "No light is measured here. "}
        The measured light is shown under{" "}
        <a href={`/home-water/${encodeURIComponent(view.system)}`}>Home water</a>.
      </p>
      {listed(current)}
      {past.length > 0 && (
        <details>
          <summary>Earlier schedules: {past.length}</summary>
          {listed(past)}
        </details>
      )}
      {open !== null && (
        <Suspense>
          {open === "new" ? <LightForm {...shared} /> : <WithdrawLight {...shared} plan={open} />}
        </Suspense>
      )}
    </section>
  );
}

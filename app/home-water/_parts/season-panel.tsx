"use client";

import { useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import css from "#app/_components/drawing/home-water.module.css";
import { read, type Sent, send } from "#app/_components/live/send.ts";
import type { PlanView } from "#contract/home-water.ts";
import type { SeasonProposalView } from "#contract/home-water-forms.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { highText } from "#core/units/bound-text.ts";
import { numberText, signedText } from "#core/units/number-text.ts";
import { roundTo } from "#core/units/rounding.ts";
import { WatchedRamps } from "./watched-ramps.tsx";

const CHOICES = [
  ["temperature", "Temperature"],
  ["day_length", "Light, hours a day"],
] as const;

function Standing({ plan, unitLabel, decimals }: { plan: PlanView; unitLabel: string; decimals: number }) {
  const { standing } = plan;
  if (!standing) return <p className={css.soft}>No readings in the last two days to compare with it.</p>;
  const { actual, planned, ahead, slope, plannedSlope } = standing;
  const slopes = `slope ${slope === null ? "not known" : signedText(slope, 2, `${unitLabel} a day`)}, planned ${signedText(plannedSlope, 2, `${unitLabel} a day`)}`;
  const way =
    ahead === null
      ? `${signedText(actual - planned, decimals, unitLabel)} from a constant plan`
      : `${ahead.units >= 0 ? "ahead of" : "behind"} the plan by ${numberText(Math.abs(ahead.units), decimals)} ${unitLabel}, ${numberText(Math.abs(ahead.days), 1)} days`;
  return (
    <p>
      {numberText(actual, decimals)} {unitLabel}, plan {numberText(planned, decimals)}: {way}; {slopes}.
    </p>
  );
}

interface SeasonPanelProps {
  readonly system: string;
  readonly zone: string;
  readonly plan: PlanView | null;
  readonly unitLabel: string;
  readonly decimals: number;
  readonly mayAdopt: boolean;
}

/** The plan in force and how the water stands to it; a proposal to read, edit and adopt. It goes to people and to no controller. */
export function SeasonPanel({ system, zone, plan, unitLabel, decimals, mayAdopt }: SeasonPanelProps) {
  const [quantity, setQuantity] = useState<string>("temperature");
  const [asked, setAsked] = useState<Sent<SeasonProposalView> | null>(null);
  const [values, setValues] = useState<readonly string[]>([]);
  const [reason, setReason] = useState("");
  const [sent, setSent] = useState<Sent<{ id: string }> | null>(null);
  const [busy, setBusy] = useState(false);
  const [knows, setKnows] = useState(false);
  const clock = clockOf(zone);

  const propose = async () => {
    setBusy(true);
    setSent(null);
    setKnows(false);
    const answer = await read<SeasonProposalView>(
      `/home-water/${encodeURIComponent(system)}/season?quantity=${quantity}`,
    );
    setBusy(false);
    setAsked(answer);
    if (answer.ok) setValues(answer.value.setPoints.map(([, value]) => String(roundTo(value, 2))));
  };
  const adopt = async (proposal: SeasonProposalView) => {
    setBusy(true);
    const answer = await send<{ id: string }>(`/systems/${encodeURIComponent(system)}/season-plans`, {
      quantity: proposal.quantity,
      rate: proposal.rate,
      ...(knows ? { despiteWatch: true } : {}),
      setPoints: proposal.setPoints.map(([at], i) => [at, Number(values[i])]),
      reason,
      source: proposal.home,
    });
    setBusy(false);
    setSent(answer);
  };
  const proposal = asked?.ok ? asked.value : null;
  const isWatched =
    (proposal?.watched.length ?? 0) > 0 ||
    (sent !== null && !sent.ok && sent.issues.some(({ field }) => field === "despiteWatch"));
  return (
    <section className={`${css.panel} no-print`}>
      <h3>Seasonal plan</h3>
      {plan && (
        <>
          <Standing plan={plan} unitLabel={unitLabel} decimals={decimals} />
          <p className={css.soft}>
            Adopted by {plan.adoptedBy}, {clock.day(plan.adoptedAt)} {clock.year(plan.adoptedAt)}: “
            {plan.reason}”.
          </p>
          <WatchedRamps ramps={plan.watched} decimals={decimals} unitLabel={unitLabel} clock={clock} />
        </>
      )}
      {!plan && <p className={css.soft}>No temperature plan has been adopted.</p>}
      <div className={css.row}>
        <Field label="Propose set-points for">
          {(links) => (
            <select {...links} value={quantity} onChange={(event) => setQuantity(event.target.value)}>
              {CHOICES.map(([id, label]) => (
                <option key={id} value={id}>
                  {label}
                </option>
              ))}
            </select>
          )}
        </Field>
        <Button busy={busy} onClick={() => void propose()}>
          Propose
        </Button>
      </div>
      {asked && !asked.ok && (
        <p className={css.out} role="alert">
          {asked.says}
        </p>
      )}
      {proposal?.waits && <p role="status">{proposal.waits}</p>}
      {proposal && proposal.setPoints.length > 0 && (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            void adopt(proposal);
          }}
        >
          <p className={css.soft}>
            Follows {proposal.home}; at most {highText(proposal.rate, 2)} {proposal.unitLabel} a week. Limited
            by the band in {proposal.heldByBand} weeks and by the rate in {proposal.heldByRate}
            {proposal.outside > 0
              ? `; in ${proposal.outside} weeks it is outside the band until the rate catches up`
              : ""}
            .
          </p>
          <WatchedRamps
            ramps={proposal.watched}
            decimals={proposal.decimals}
            unitLabel={proposal.unitLabel}
            clock={clock}
          />
          <div className={css.weeks}>
            {proposal.setPoints.map(([at], i) => (
              <label key={at}>
                <span>{clock.day(at).slice(4)}</span>
                <input
                  inputMode="decimal"
                  value={values[i] ?? ""}
                  onChange={(event) =>
                    setValues(values.map((value, j) => (j === i ? event.target.value : value)))
                  }
                />
              </label>
            ))}
          </div>
          {mayAdopt ? (
            <>
              <Field label="Reason">
                {(links) => (
                  <input
                    {...links}
                    required
                    minLength={3}
                    value={reason}
                    onChange={(event) => setReason(event.target.value)}
                  />
                )}
              </Field>
              {isWatched && (
                <label className={css.check}>
                  <input
                    type="checkbox"
                    checked={knows}
                    onChange={(event) => setKnows(event.target.checked)}
                  />
                  Adopt it even though it ramps while a birth or hatching is expected
                </label>
              )}
              <p>
                <Button kind="main" type="submit" busy={busy}>
                  Adopt this plan
                </Button>
              </p>
            </>
          ) : (
            <p className={css.soft}>Only a curator can adopt a plan.</p>
          )}
          {sent && !sent.ok && (
            <p className={css.out} role="alert">
              {sent.issues.length === 0
                ? sent.says
                : sent.issues.map(({ says, remedy }) => `${says}: ${remedy}.`).join(" ")}
            </p>
          )}
          {sent?.ok && (
            <p role="status">Adopted. It is a plan for people to follow: nothing is sent to a controller.</p>
          )}
        </form>
      )}
    </section>
  );
}

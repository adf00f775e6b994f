"use client";

import { lazy, Suspense, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import type { Change } from "#app/_components/words/change.ts";
import { edgeWords, limitsWords, rangeWords } from "#app/_components/words/habitat-words.ts";
import type { AskedBand, ResidentsView } from "#contract/habitat.ts";
import { monthRuns } from "#core/time/month-names.ts";
import { monthShort } from "#core/time/names.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { numberText } from "#core/units/number-text.ts";

const forms = () => import("./band-sign-forms.tsx");
const ConfirmForm = lazy(() => forms().then((m) => ({ default: m.ConfirmForm })));
const CompromiseForm = lazy(() => forms().then((m) => ({ default: m.CompromiseForm })));

const monthOf = (now: number, zone: string): number => clockOf(zone).month(now);

const KEPT = {
  person: "set by hand",
  residents: "follows the residents",
  type: "default band of this system",
} as const;

function standing(band: AskedBand): string {
  const kept = band.origin === null ? "no band in force" : `in force: ${KEPT[band.origin]}`;
  return band.confirmedBy === null ? kept : `${kept}, confirmed by ${band.confirmedBy}`;
}

function Months({ band }: { readonly band: AskedBand }) {
  return (
    <div className={css.wide}>
      <table className={css.table}>
        <thead>
          <tr>
            <th scope="col">Month</th>
            <th scope="col">Low set by</th>
            <th scope="col">High set by</th>
            <th scope="col">Needed</th>
            <th scope="col">In force</th>
          </tr>
        </thead>
        <tbody>
          {band.months.map((month) => (
            <tr key={month.month}>
              <th scope="row">{monthShort(month.month)}</th>
              <td>{edgeWords(month.low, band)}</td>
              <td>{edgeWords(month.high, band)}</td>
              <td>
                {month.gap === null
                  ? rangeWords(month.asked, band)
                  : `no common range, ${numberText(month.gap, band.decimals)} ${band.unitLabel} apart`}
                {month.compromise === null ? "" : `; compromise ${rangeWords(month.asked, band)}`}
                <small> {limitsWords(month.asked, band)}</small>
              </td>
              <td>
                {rangeWords(month.kept, band)} <small>{limitsWords(month.kept, band)}</small>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** What the residents ask for beside what is in force; conflicts with their gap, and what waits for a person's word. */
export function AskedBands({
  view,
  may,
  onChange,
}: {
  readonly view: ResidentsView;
  readonly may: boolean;
  readonly onChange: (change: Change) => void;
}) {
  const [open, setOpen] = useState<{
    readonly kind: "confirm" | "compromise";
    readonly band: AskedBand;
  } | null>(null);
  const now = monthOf(view.now, view.zone);
  const shared = {
    system: view.system,
    zone: view.zone,
    now: view.now,
    onClose: () => setOpen(null),
    onDone: (change: Change) => {
      setOpen(null);
      onChange(change);
    },
  };
  return (
    <section aria-labelledby="asked">
      <h2 id="asked">What the residents need</h2>
      {view.bands.length === 0 && (
        <p className={css.soft}>No profile of a resident here gives a preferred or advised range.</p>
      )}
      <ul className={css.stays}>
        {view.bands.map((band) => {
          const month = band.months[now - 1];
          const unsigned = band.conflicts.filter((each) => band.months[each - 1]?.compromise === null);
          const waits = band.awaits.filter((each) => !unsigned.includes(each));
          return (
            <li key={band.quantity} data-asked={band.quantity}>
              <div>
                <p>
                  <b>{band.label}</b> {monthShort(now)}: {rangeWords(month?.asked ?? null, band)}{" "}
                  {band.unitLabel}
                  <small className={css.soft}>
                    {" "}
                    {band.asks === "type" ? "default band of this system: no profile covers it; " : ""}
                    {standing(band)}
                  </small>
                </p>
                {unsigned.length > 0 && month !== undefined && (
                  <p className={css.look}>
                    ◆ No common range ({monthRuns(unsigned, monthShort)}
                    {month.gap === null
                      ? ""
                      : `; this month the ranges are ${numberText(month.gap, band.decimals)} ${band.unitLabel} apart`}
                    ). The previous band stays in force until a compromise is signed.
                  </p>
                )}
                {waits.length > 0 && (
                  <p className={css.look}>
                    ◆ Partly in force ({monthRuns(waits, monthShort)}): the action limits stay as they are
                    until someone confirms the new ones.
                  </p>
                )}
                {band.unknown.length > 0 && (
                  <p className={css.soft}>Not known for {band.unknown.join("; ")}.</p>
                )}
                <details>
                  <summary>Who sets each edge, month by month</summary>
                  <Months band={band} />
                </details>
              </div>
              {may && (
                <p className={css.rowButtons}>
                  {waits.length > 0 && (
                    <Button
                      aria-label={`Confirm the limits for ${band.label}`}
                      onClick={() => setOpen({ kind: "confirm", band })}
                    >
                      Confirm
                    </Button>
                  )}
                  {band.conflicts.length > 0 && (
                    <Button
                      aria-label={`Sign a compromise for ${band.label}`}
                      onClick={() => setOpen({ kind: "compromise", band })}
                    >
                      Sign a compromise
                    </Button>
                  )}
                </p>
              )}
            </li>
          );
        })}
      </ul>
      {open !== null && (
        <Suspense>
          {open.kind === "confirm" ? (
            <ConfirmForm {...shared} band={open.band} />
          ) : (
            <CompromiseForm {...shared} band={open.band} />
          )}
        </Suspense>
      )}
    </section>
  );
}

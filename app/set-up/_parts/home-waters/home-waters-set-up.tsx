"use client";

import { lazy, Suspense, useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import { type Sent, send } from "#app/_components/live/send.ts";
import { useAnswer } from "#app/_components/live/use-answer.ts";
import { dayWords } from "#app/_components/words/habitat-words.ts";
import type { HomeWaterSeriesListView } from "#contract/home-water-forms.ts";
import { monthShort } from "#core/time/names.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { numberText } from "#core/units/number-text.ts";
import { Unanswered } from "../unanswered.tsx";

const HomeWaterFile = lazy(() => import("./home-water-file.tsx").then((m) => ({ default: m.HomeWaterFile })));

type Series = HomeWaterSeriesListView["series"][number];

function Months({ series }: { readonly series: Series }) {
  return (
    <details>
      <summary>Monthly values</summary>
      <p className={css.soft}>
        {series.months
          .map(
            ({ value, spread }, i) =>
              `${monthShort(i + 1)} ${numberText(value, series.decimals)}${spread === null ? "" : ` ± ${numberText(spread, series.decimals)}`}`,
          )
          .join(" · ")}{" "}
        {series.unitLabel}
      </p>
    </details>
  );
}

/** Home waters that the team keeps itself; each comes before the climatology within 300 km of it. */
export function HomeWatersSetUp({ zone, may }: { readonly zone: string; readonly may: boolean }) {
  const { answer, again } = useAnswer<HomeWaterSeriesListView>("/home-water-series");
  const [isLoading, setLoading] = useState(false);
  const [said, setSaid] = useState("");
  const [busy, setBusy] = useState<string | null>(null);
  const [failed, setFailed] = useState<Sent<{ id: string }> | null>(null);
  if (!answer?.ok) return <Unanswered answer={answer} what="the home waters" onAgain={again} />;
  const clock = clockOf(zone);
  const withdraw = async (series: Series) => {
    setBusy(series.id);
    const sent = await send<{ id: string }>(
      `/home-water-series/${encodeURIComponent(series.id)}/withdraw`,
      {},
    );
    setBusy(null);
    setFailed(sent.ok ? null : sent);
    if (sent.ok)
      setSaid(
        `${series.name} withdrawn. The climatology is used again unless another loaded series is near enough.`,
      );
    again();
  };
  return (
    <>
      <div className={css.sectionHead}>
        <h1>Our own home water data</h1>
        {may && <Button onClick={() => setLoading(true)}>Load a file</Button>}
      </div>
      <p className={css.soft}>
        Monthly values from your own logger or a shore station. The nearest one within 300 km of an animal’s
        home is used instead of the climatology: for home water, its charts and proposed seasons.
      </p>
      <p role="status">{said}</p>
      {failed !== null && !failed.ok && (
        <p className={css.wrong} role="alert">
          {failed.says}
        </p>
      )}
      {answer.value.series.length === 0 ? (
        <p className={css.soft}>None yet. The climatology is used everywhere.</p>
      ) : (
        <ul className={css.stays}>
          {answer.value.series.map((series) => (
            <li key={series.id} data-series={series.id}>
              <div>
                <p>
                  <b>{series.name}</b>: {series.label} at {series.latitude}°, {series.longitude}°
                  {series.withdrawn === null ? "" : `, withdrawn ${dayWords(series.withdrawn, clock, "")}`}
                </p>
                <p className={css.soft}>
                  {series.source} · {series.recordedBy}, {dayWords(series.recorded, clock, "")}:{" "}
                  {series.reason}
                </p>
                <Months series={series} />
              </div>
              {may && series.withdrawn === null && (
                <p className={css.rowButtons}>
                  <Button
                    busy={busy === series.id}
                    aria-label={`Withdraw ${series.name}`}
                    onClick={() => void withdraw(series)}
                  >
                    Withdraw
                  </Button>
                </p>
              )}
            </li>
          ))}
        </ul>
      )}
      {isLoading && (
        <Suspense>
          <HomeWaterFile
            onClose={() => setLoading(false)}
            onDone={(name) => {
              setLoading(false);
              setSaid(`${name} loaded and in use from now on. Withdraw it to undo.`);
              again();
            }}
          />
        </Suspense>
      )}
    </>
  );
}

"use client";

import css from "#app/_components/findings/incidents.module.css";
import { useAnswer } from "#app/_components/live/use-answer.ts";
import type { ForecastView } from "#contract/forecast.ts";
import { intervalText } from "#core/units/bound-text.ts";
import { numberText } from "#core/units/number-text.ts";

/** Where the quantity of a finding will be, and how far that can be believed on this stream. */
export function Ahead({
  system,
  point,
  quantity,
}: {
  readonly system: string;
  readonly point: string;
  readonly quantity: string;
}) {
  const query = new URLSearchParams({ quantity, point });
  const { answer } = useAnswer<ForecastView>(`/systems/${encodeURIComponent(system)}/forecast?${query}`);
  if (answer === null) return <p className={css.causes}>Loading the forecast ...</p>;
  if (!answer.ok) return <p className={css.causes}>No forecast: {answer.says}</p>;
  const view = answer.value;
  return (
    <div className={css.causes} data-forecast={quantity}>
      <p>{view.says}</p>
      {view.limits.map((limit) => (
        <p key={limit.side}>{limit.says}.</p>
      ))}
      <ul>
        {view.ahead.map((row) => (
          <li key={row.hours}>
            in {row.hours} h: {numberText(row.value, view.decimals)}
            {row.low !== null &&
              row.high !== null &&
              `, ${row.isStated ? "90 % interval" : "rough"} ${intervalText(row.low, row.high, view.decimals)}`}
            {row.coverage !== null &&
              ` (right in ${Math.round(row.coverage * 100)} % of ${row.origins} past forecasts of this stream)`}
          </li>
        ))}
      </ul>
    </div>
  );
}

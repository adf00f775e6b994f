"use client";

import css from "#app/_components/findings/incidents.module.css";
import { useAnswer } from "#app/_components/live/use-answer.ts";
import type { ForecastView } from "#contract/forecast.ts";
import { intervalText } from "#core/units/bound-text.ts";
import { withUnit } from "#core/units/number-text.ts";

/** "in 6 h: 26.9 °C, 90 % interval 26.5 to 27.3". */
export function aheadWords(
  { hours, value, low, high, isStated }: ForecastView["ahead"][number],
  { decimals, unitLabel }: Pick<ForecastView, "decimals" | "unitLabel">,
): string {
  const said = `in ${hours} h: ${withUnit(value, decimals, unitLabel)}`;
  const interval = intervalText(low, high, decimals);
  return interval === "" ? said : `${said}, ${isStated ? "90 % interval" : "rough"} ${interval}`;
}

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
            {aheadWords(row, view)}
            {row.coverage !== null &&
              ` (right in ${Math.round(row.coverage * 100)} % of ${row.origins} past forecasts of this stream)`}
          </li>
        ))}
      </ul>
    </div>
  );
}

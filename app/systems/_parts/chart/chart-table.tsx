"use client";

import type { ChartData } from "#app/_components/drawing/chart-data.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { intervalText, resultText } from "#core/units/bound-text.ts";
import { numberText } from "#core/units/number-text.ts";
import css from "../trend/trend.module.css";

const MOST = 200;

interface Row {
  readonly at: number;
  readonly value: string;
  readonly range: string;
  readonly kind: string;
}

function rowsOf(data: ChartData, decimals: number): Row[] {
  const words = (value: number) => numberText(value, decimals);
  const line = data.at.flatMap((at, i): Row[] => {
    const mean = data.mean[i];
    if (mean == null) return [];
    const [low, high] = [data.low[i] ?? mean, data.high[i] ?? mean];
    return [
      { at, value: words(mean), range: data.hasRibbon ? intervalText(low, high, decimals) : "", kind: "" },
    ];
  });
  const suspect = data.suspect.map(({ at, value }) => ({
    at,
    value: words(value),
    range: "",
    kind: data.why.get(at) ?? "suspect, set aside",
  }));
  const bench = data.bench.map(({ at, value, qualifier }) => ({
    at,
    value: resultText(value, qualifier, decimals),
    range: "",
    kind: "bench",
  }));
  const gaps = data.gaps.map(({ from }) => ({
    at: from + 1,
    value: "no data",
    range: "",
    kind: "start of gap",
  }));
  return [...line, ...suspect, ...bench, ...gaps].sort((a, b) => b.at - a.at);
}

/** The readings behind a chart, newest first. */
export function ChartTable({
  label,
  unitLabel,
  decimals,
  data,
  clock,
}: {
  label: string;
  unitLabel: string;
  decimals: number;
  data: ChartData;
  clock: ZoneClock;
}) {
  const rows = rowsOf(data, decimals);
  return (
    <div className={css.table}>
      {rows.length === 0 && <p>No readings in this range.</p>}
      {rows.length > 0 && (
        <>
          {rows.length > MOST && (
            <p>
              The latest {MOST} of {rows.length}; zoom in to see the others.
            </p>
          )}
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard (WCAG 2.2, 2.1.1) */}
          <section className={css.scroll} tabIndex={0} aria-label={`Readings of ${label}`}>
            <table>
              <thead>
                <tr>
                  <th scope="col">Time, {clock.zone}</th>
                  <th scope="col">
                    {label}
                    {unitLabel === "" ? "" : `, ${unitLabel}`}
                  </th>
                  <th scope="col">min to max</th>
                  <th scope="col">note</th>
                </tr>
              </thead>
              <tbody>
                {rows.slice(0, MOST).map((row) => (
                  <tr key={`${row.at} ${row.kind}`}>
                    <td>{clock.full(row.at)}</td>
                    <td>{row.value}</td>
                    <td>{row.range}</td>
                    <td>{row.kind}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </section>
        </>
      )}
    </div>
  );
}

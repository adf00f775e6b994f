import { useId } from "react";
import type { ProbeView } from "#contract/probes.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { numberText, signedText } from "#core/units/number-text.ts";
import css from "./probes.module.css";

const WIDTH = 480;
const HEIGHT = 170;
const FIELD = { left: 52, right: 468, top: 10, bottom: 146 };

/** Differences from the bench with the limits of their chart; squares are single tests, the line their weighted mean. */
export function AgreementChart({ view, clock }: { readonly view: ProbeView; readonly clock: ZoneClock }) {
  const id = useId();
  const { pairs } = view;
  const first = pairs[0];
  const last = pairs.at(-1);
  if (!first || !last) return null;
  const decimals = view.differenceUnit === "%" ? 1 : view.decimals;
  const set = view.calibrations.filter(
    (row) => row.voided === null && row.kind !== "cleaning" && row.at > first.at,
  );
  const to = Math.max(last.at, ...set.map((row) => row.at), first.at + 1);
  const x = (at: number) => FIELD.left + ((at - first.at) / (to - first.at)) * (FIELD.right - FIELD.left);
  const most = Math.max(
    ...pairs.flatMap((pair) => [
      Math.abs(pair.difference),
      Math.abs(pair.ewma ?? 0),
      1.2 * (pair.limit ?? 0),
    ]),
    10 ** -decimals,
  );
  const y = (value: number) =>
    (FIELD.top + FIELD.bottom) / 2 - (value / most) * ((FIELD.bottom - FIELD.top) / 2);
  const limited = pairs.filter((pair) => pair.limit !== null);
  const edge = (sign: number) => limited.map((pair) => `${x(pair.at)} ${y(sign * (pair.limit ?? 0))}`);
  const band = limited.length > 1 ? `M${edge(1).join("L")}L${edge(-1).reverse().join("L")}Z` : "";
  const runs: string[] = [];
  for (const [i, pair] of pairs.entries()) {
    if (pair.ewma === null) continue;
    const before = pairs[i - 1];
    const isNew = !before || set.some((row) => row.at > before.at && row.at <= pair.at);
    runs.push(`${isNew ? "M" : "L"}${x(pair.at)} ${y(pair.ewma)}`);
  }
  const unit = view.differenceUnit === "" ? "" : ` ${view.differenceUnit}`;
  const words = (value: number) => signedText(value, decimals);
  return (
    <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-labelledby={id} className={css.chart}>
      <title id={id}>
        {`Probe minus bench, ${pairs.length} tests from ${clock.day(first.at)} to ${clock.day(last.at)}: last ${words(last.difference)}${unit}${last.ewma === null ? "" : `, mean ${words(last.ewma)}${unit}, limit ${numberText(last.limit ?? 0, decimals)}${unit}`}.`}
      </title>
      <path className={css.limits} d={band} />
      <line className={css.zero} x1={FIELD.left} x2={FIELD.right} y1={y(0)} y2={y(0)} />
      {set.map((row) => (
        <line
          key={row.id}
          className={css.set}
          x1={x(row.at)}
          x2={x(row.at)}
          y1={FIELD.top}
          y2={FIELD.bottom}
        />
      ))}
      <path className={css.ewma} d={runs.join("")} />
      {pairs.map((pair) => (
        <rect
          key={pair.at}
          className={css.dot}
          x={x(pair.at) - 3}
          y={y(pair.difference) - 3}
          width="6"
          height="6"
        />
      ))}
      {[most, 0, -most].map((value) => (
        <text key={value} x={FIELD.left - 6} y={y(value) + 4} textAnchor="end">
          {words(value)}
        </text>
      ))}
      <text x={FIELD.left} y={HEIGHT - 6}>
        {clock.day(first.at)}
      </text>
      <text x={FIELD.right} y={HEIGHT - 6} textAnchor="end">
        {clock.day(to)}
      </text>
    </svg>
  );
}

import type { FitRowView, FitView, HomeWaterView, LightView } from "#contract/home-water.ts";
import { WELL } from "#core/fit/index.ts";
import { monthName } from "#core/time/month-names.ts";
import { signedMostText } from "#core/units/bound-text.ts";
import { signedText } from "#core/units/number-text.ts";
import { percent } from "#core/units/share-text.ts";
import css from "./home-water.module.css";

const INITIALS = ["J", "F", "M", "A", "M", "J", "J", "A", "S", "O", "N", "D"] as const;

const KIND: Readonly<Record<FitRowView["kind"], string>> = {
  native: "native",
  advice: "advised",
  common: "common range",
  target: "target band",
};

export const isMissing = (fit: FitView | null): boolean =>
  fit !== null && fit.share !== null && fit.share < WELL;

function Cell({
  fit,
  decimals,
  unitLabel,
  month,
}: {
  fit: FitView | null;
  decimals: number;
  unitLabel: string;
  month: number;
}) {
  if (fit === null) return <td className={css.none}>·</td>;
  if (fit.share === null)
    return (
      <td className={css.none} title={`${monthName(month)}: no good readings`}>
        –
      </td>
    );
  const isOut = isMissing(fit);
  const said = `${monthName(month)}: ${percent(fit.share)} inside, ${fit.scored} of ${fit.possible} quarter hours with readings${
    fit.typicalMiss === null
      ? ""
      : `, the rest out by ${signedText(fit.typicalMiss, decimals, unitLabel)} on average, at most ${signedMostText(fit.widestMiss ?? 0, decimals, unitLabel)}`
  }`;
  return (
    <td title={said} data-out={isOut || undefined}>
      {isOut && fit.widestMiss !== null ? (fit.widestMiss > 0 ? "▲" : "▼") : ""}
      {percent(fit.share).replace(" %", "")}
    </td>
  );
}

function Row({
  of,
  row,
  isFirst,
}: {
  of: HomeWaterView["quantities"][number];
  row: FitRowView;
  isFirst: boolean;
}) {
  const { year } = row;
  const isOut = isMissing(year);
  return (
    <tr>
      <th scope="row">
        {isFirst ? of.label : <span className="unseen">{of.label}</span>}
        <span className={css.against}>
          {row.kind === "common" || row.kind === "target"
            ? KIND[row.kind]
            : `${row.against}, ${KIND[row.kind]}`}
        </span>
      </th>
      <td data-out={isOut || undefined}>{year.share === null ? "–" : percent(year.share)}</td>
      <td data-out={isOut || undefined}>
        {year.typicalMiss === null ? "–" : signedText(year.typicalMiss, of.decimals, of.unitLabel)}
        {year.typicalDeviation !== null && <small> {signedText(year.typicalDeviation, 1, "")} hw</small>}
      </td>
      <td data-out={isOut || undefined}>
        {year.widestMiss === null ? "–" : signedMostText(year.widestMiss, of.decimals, of.unitLabel)}
      </td>
      <td>{year.possible === 0 ? "–" : percent(year.scored / year.possible)}</td>
      {row.months.map((fit, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: twelve months in their order
        <Cell key={i} fit={fit} decimals={of.decimals} unitLabel={of.unitLabel} month={i + 1} />
      ))}
    </tr>
  );
}

function LightRow({ label, of, widest }: { label: string; of: LightView["phaseFit"]; widest: string }) {
  const share = of.days === 0 ? null : of.within / of.days;
  const isOut = share !== null && share < WELL;
  return (
    <tr>
      <th scope="row">
        {label}
        <span className={css.against}>
          {label.endsWith("length") ? "home latitude" : "plan"}, within 15 min, counted in days
        </span>
      </th>
      <td data-out={isOut || undefined}>{share === null ? "–" : percent(share)}</td>
      <td>–</td>
      <td data-out={isOut || undefined}>{widest}</td>
      <td>{of.days} days</td>
      <td colSpan={12} />
    </tr>
  );
}

function widestOf(values: readonly (number | null)[]): string {
  const worst = values.reduce<number>(
    (most, value) => (Math.abs(value ?? 0) > Math.abs(most) ? (value ?? 0) : most),
    0,
  );
  return Math.abs(worst) < 1 ? "–" : signedText(Math.round(worst), 0, "min");
}

/** Fit of a year and its months, a row a quantity and range. Nothing is averaged across species: each has its own row. */
export function FitTable({ view }: { readonly view: HomeWaterView }) {
  const { light } = view;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
    <section className={css.scroller} aria-label="Fit by month, scrolls sideways" tabIndex={0}>
      <table className={css.fit}>
        <caption>
          Share of 15-minute means of good readings inside the range, %. hw: half-widths of the range. ▲ over,
          ▼ under; · no range to compare with; – no readings. Read: share of the time with good readings.
        </caption>
        <thead>
          <tr>
            <th scope="col">Quantity, compared with</th>
            <th scope="col">in range</th>
            <th scope="col">typical miss</th>
            <th scope="col">widest</th>
            <th scope="col">read</th>
            {INITIALS.map((initial, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: twelve months in their order
              <th key={i} scope="col">
                <abbr title={monthName(i + 1)}>{initial}</abbr>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {view.quantities.flatMap((of) =>
            of.fits.map((row, i) => (
              <Row key={`${of.quantity}/${row.kind}/${row.against}`} of={of} row={row} isFirst={i === 0} />
            )),
          )}
          {light && (
            <>
              <LightRow
                label="Light, length"
                of={light.lengthFit}
                widest={widestOf(
                  light.days.map(({ hours, native, planned }) => {
                    const goal = native ?? planned;
                    return hours === null || goal === null ? null : (hours - goal) * 60;
                  }),
                )}
              />
              <LightRow
                label="Light, phase"
                of={light.phaseFit}
                widest={widestOf(light.days.map(({ phaseOff }) => phaseOff))}
              />
            </>
          )}
        </tbody>
      </table>
    </section>
  );
}

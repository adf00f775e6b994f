import { isMissing } from "#app/_components/drawing/fit-table.tsx";
import home from "#app/_components/drawing/home-water.module.css";
import type {
  AnimalWaterView,
  HeldView,
  MonthOfLife,
  QuantityOfVisit,
  VisitView,
} from "#contract/animal-water.ts";
import { monthName } from "#core/time/month-names.ts";
import { clockOf, type ZoneClock } from "#core/time/zone-clock.ts";
import { intervalText } from "#core/units/bound-text.ts";
import { numberText, rangeText, signedText } from "#core/units/number-text.ts";
import { percent } from "#core/units/share-text.ts";
import css from "./animal-water.module.css";
import { isOutside, LifeChart } from "./life-chart.tsx";

type Of = AnimalWaterView["quantities"][number];

const dayOf = (at: number, clock: ZoneClock) => `${clock.day(at)} ${clock.year(at)}`;
const ofVisit = (visit: VisitView, quantity: string): QuantityOfVisit | undefined =>
  visit.quantities.find((each) => each.quantity === quantity);
const readWords = ({ good, possible }: Of["read"]) => (possible === 0 ? "–" : percent(good / possible));

const spanWords = ({ from, to, ended }: VisitView, clock: ZoneClock) =>
  `${dayOf(from, clock)} to ${to === null ? "now" : dayOf(to, clock)}${ended === null ? "" : `, ${ended}`}`;

function stageWords({ stays }: VisitView): string {
  const words = stays.map(({ stage, count }) => (count === 1 ? stage : `${count} ${stage}`));
  return [...new Set(words)].join(", then ");
}

/** Where it lived, from when to when, and for each quantity the share inside its range and how much of that time was read. */
export function Visits({ view }: { readonly view: AnimalWaterView }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
    <section className={home.scroller} aria-label="Where it lived, scrolls sideways" tabIndex={0}>
      <table className={`${home.fit} ${css.visits}`}>
        <caption>
          Share of readings there inside its own species’ range. In brackets: how much of its time there has
          readings.
        </caption>
        <thead>
          <tr>
            <th scope="col">System</th>
            {view.quantities.map(({ quantity, label }) => (
              <th key={quantity} scope="col">
                {label}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {view.visits.map((visit) => (
            <tr key={`${visit.system}/${visit.from}`} data-visit={visit.system}>
              <th scope="row">
                <a href={`/systems/${encodeURIComponent(visit.system)}`}>{visit.systemName}</a>
                <span className={home.against}>
                  {spanWords(visit, clockOf(visit.zone))} · {stageWords(visit)}
                </span>
              </th>
              {view.quantities.map(({ quantity }) => {
                const of = ofVisit(visit, quantity);
                if (!of || of.point === null) return <td key={quantity}>not measured</td>;
                return (
                  <td key={quantity} data-out={of.held.some(({ fit }) => isMissing(fit)) || undefined}>
                    {of.held.length === 0 ? "no range" : of.held.map(shareWords).join(", ")}{" "}
                    <small>({readWords(of.read)} covered)</small>
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

const shareWords = ({ fit }: HeldView): string => (fit.share === null ? "–" : percent(fit.share));

function MonthRow({
  month,
  of,
  isStaged,
}: {
  readonly month: MonthOfLife;
  readonly of: Of;
  readonly isStaged: boolean;
}) {
  const { water, held, read } = month;
  const stage = ({ stage: at }: HeldView) => (isStaged ? ` ${at}` : "");
  const miss = (value: number | null) => (value === null ? "–" : signedText(value, of.decimals, ""));
  return (
    <tr data-month={`${month.year}-${String(month.month).padStart(2, "0")}`}>
      <th scope="row">
        {monthName(month.month)} {month.year}
      </th>
      {water.median === null ? (
        <td className={home.none}>less than three hours of readings</td>
      ) : (
        <td>
          {numberText(water.median, of.decimals)}{" "}
          <small>({intervalText(water.low, water.high, of.decimals)})</small>
        </td>
      )}
      <td>
        {held.length === 0
          ? "·"
          : held
              .map((each) =>
                each.range ? `${rangeText(each.range, of.decimals)}${stage(each)}` : `·${stage(each)}`,
              )
              .join("; ")}
      </td>
      <td data-out={isOutside(month) || undefined}>
        {held.length === 0 ? "·" : held.map(shareWords).join("; ")}
      </td>
      <td>{held.length === 0 ? "·" : held.map(({ fit }) => miss(fit.typicalMiss)).join("; ")}</td>
      <td>{held.length === 0 ? "·" : held.map(({ fit }) => miss(fit.widestMiss)).join("; ")}</td>
      <td>{readWords(read)}</td>
    </tr>
  );
}

/** Consecutive months without readings share one line. */
function runsOf(months: readonly MonthOfLife[]): MonthOfLife[][] {
  const runs: MonthOfLife[][] = [];
  for (const month of months) {
    const last = runs.at(-1);
    if (last && month.read.good === 0 && last[0]?.read.good === 0) last.push(month);
    else runs.push([month]);
  }
  return runs;
}

function UnreadRow({ months }: { readonly months: readonly MonthOfLife[] }) {
  const [first, last] = [months[0], months.at(-1)];
  if (!first || !last) return null;
  const name = ({ month, year }: MonthOfLife) => `${monthName(month)} ${year}`;
  return (
    <tr data-unread={months.length}>
      <th scope="row">{first === last ? name(first) : `${name(first)} to ${name(last)}`}</th>
      <td className={home.none}>not read</td>
      <td colSpan={4} />
      <td>0 %</td>
    </tr>
  );
}

function Months({ view, of }: { readonly view: AnimalWaterView; readonly of: Of }) {
  const unit = of.unitLabel === "" ? "" : `, ${of.unitLabel}`;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard
    <section className={home.scroller} aria-label={`${of.label} by month, scrolls sideways`} tabIndex={0}>
      <table className={`${home.fit} ${css.months}`}>
        <caption className="unseen">
          {of.label}
          {unit}: by system and month
        </caption>
        <thead>
          <tr>
            <th scope="col">Month</th>
            <th scope="col">typical (5 to 95 %){unit}</th>
            <th scope="col">its range, mid-month</th>
            <th scope="col">in range</th>
            <th scope="col">typical miss</th>
            <th scope="col">widest</th>
            <th scope="col">coverage</th>
          </tr>
        </thead>
        {view.visits.map((visit) => {
          const own = ofVisit(visit, of.quantity);
          const isStaged = new Set(own?.held.map(({ stage }) => stage)).size > 1;
          return (
            <tbody key={`${visit.system}/${visit.from}`}>
              <tr>
                <th scope="rowgroup" colSpan={7} className={css.system}>
                  {visit.systemName}
                  <span className={home.against}>
                    {spanWords(visit, clockOf(visit.zone))}
                    {own?.point == null ? " · not measured there" : ` · ${own.point}, ${own.origin}`}
                  </span>
                </th>
              </tr>
              {own?.point != null &&
                runsOf(own.months).map((run) =>
                  run[0]?.read.good === 0 ? (
                    <UnreadRow key={run[0].from} months={run} />
                  ) : (
                    run.map((month) => (
                      <MonthRow key={month.from} month={month} of={of} isStaged={isStaged} />
                    ))
                  ),
                )}
            </tbody>
          );
        })}
      </table>
    </section>
  );
}

const KIND = { native: "native", advice: "advised, used because no native range is known" } as const;

/** One quantity of a life: its sentence, drawing, months and where its range is known from. */
export function LifeOf({ view, of }: { readonly view: AnimalWaterView; readonly of: Of }) {
  return (
    <section className={home.panel} aria-labelledby={`life-${of.quantity}`} data-life={of.quantity}>
      <h2 id={`life-${of.quantity}`}>
        {of.label}
        {of.unitLabel === "" ? "" : `, ${of.unitLabel}`}
      </h2>
      <p className={of.fits.some(({ fit }) => isMissing(fit)) ? home.out : undefined}>{of.says}</p>
      <LifeChart view={view} of={of} />
      <Months view={view} of={of} />
      {of.sources.length > 0 && (
        <p className={home.soft}>
          Range from{" "}
          {of.sources
            .map(
              ({ source, mark, place, confidence, stage, basis }) =>
                `${source} (${mark}${place === null ? "" : `, ${place}`}; ${stage}; ${KIND[basis]}; confidence ${confidence})`,
            )
            .join("; ")}
          .
        </p>
      )}
    </section>
  );
}

import drawing from "#app/_components/drawing/ribbon.module.css";
import type { AnimalWaterView, MonthOfLife, VisitView } from "#contract/animal-water.ts";
import { WELL } from "#core/fit/index.ts";
import { monthShort } from "#core/time/names.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { numberText } from "#core/units/number-text.ts";
import css from "./animal-water.module.css";

/** Of a longer life only the years are written below. */
const MOST_MONTHS = 30;

interface Placed {
  readonly visit: VisitView;
  readonly month: MonthOfLife;
}
export const isOutside = ({ held }: MonthOfLife): boolean =>
  held.some(({ fit }) => fit.share !== null && fit.share < WELL);

const known = (values: readonly (number | null | undefined)[]): number[] =>
  values.filter((value): value is number => value !== null && value !== undefined);

/** A life as one drawing a quantity: what its species meets at home filled, the water as months, what was not read hatched, systems parted. */
export function LifeChart({
  view,
  of,
}: {
  readonly view: AnimalWaterView;
  readonly of: AnimalWaterView["quantities"][number];
}) {
  const months = view.visits.flatMap((visit): Placed[] =>
    visit.quantities
      .filter(({ quantity }) => quantity === of.quantity)
      .flatMap((each) => each.months.map((month) => ({ visit, month }))),
  );
  const values = months.flatMap(({ month: { water, held } }) =>
    known([water.low, water.high, ...held.flatMap(({ range }) => [range?.low, range?.high])]),
  );
  if (values.length === 0) return null;
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const room = Math.max((most - least) * 0.08, 10 ** -of.decimals);
  const [bottom, top] = [least - room, most + room];
  const x = (at: number) => (100 * (at - view.from)) / Math.max(1, view.to - view.from);
  const y = (value: number) => (100 * (top - value)) / (top - bottom);
  const clock = clockOf(view.zone);
  const words = (value: number) => numberText(value, of.decimals);
  const starts = new Map(months.map(({ month }) => [month.year * 12 + month.month, month]));
  const every = starts.size > MOST_MONTHS ? 12 : 3;
  const ticks = [...starts.values()].filter(({ month }) => month % every === 1);
  return (
    <figure className={css.figure}>
      <div className={css.plot}>
        <svg className={drawing.drawing} viewBox="0 0 100 100" preserveAspectRatio="none" aria-hidden="true">
          {months.flatMap(({ visit, month }) =>
            month.held.flatMap(({ range, stage }) =>
              range === null
                ? []
                : [
                    <rect
                      key={`${visit.system}/${month.from}/${stage}`}
                      className={css.range}
                      x={x(month.from)}
                      width={x(month.to) - x(month.from)}
                      y={range.high === null ? 0 : y(range.high)}
                      height={
                        (range.low === null ? 100 : y(range.low)) - (range.high === null ? 0 : y(range.high))
                      }
                    />,
                  ],
            ),
          )}
          {months.map(({ visit, month: { from, to, water, ...month } }) => {
            if (water.low === null || water.high === null || water.median === null) return null;
            const [a, width] = [x(from), x(to) - x(from)];
            const isOut = isOutside({ from, to, water, ...month }) || undefined;
            return (
              <g key={`${visit.system}/${from}`} data-out={isOut} className={css.month}>
                <rect
                  className={css.spread}
                  x={a + width * 0.3}
                  width={width * 0.4}
                  y={y(water.high)}
                  height={Math.max(0.8, y(water.low) - y(water.high))}
                />
                <line
                  className={css.median}
                  x1={a + width * 0.12}
                  x2={a + width * 0.88}
                  y1={y(water.median)}
                  y2={y(water.median)}
                />
              </g>
            );
          })}
          {view.visits.map(({ system, from }) => (
            <line
              key={`${system}/${from}`}
              className={css.move}
              x1={Math.max(0, x(from))}
              x2={Math.max(0, x(from))}
              y1={0}
              y2={100}
            />
          ))}
        </svg>
        {months
          .filter(({ month }) => month.read.good === 0)
          .map(({ visit, month }) => (
            <span
              key={`${visit.system}/${month.from}`}
              className={css.unread}
              style={{ left: `${x(month.from)}%`, width: `${x(month.to) - x(month.from)}%` }}
            />
          ))}
        {[...new Set([most, least])].map((value) => (
          <span key={value} className={css.tick} style={{ top: `${y(value)}%` }}>
            {words(value)}
          </span>
        ))}
        {ticks.map(({ year, month, from }) => (
          <span key={from} className={css.when} style={{ left: `${x(from)}%` }}>
            {month === 1 || every === 12 ? year : monthShort(month)}
          </span>
        ))}
        {view.visits.map(({ system, systemName, from, to }) => (
          <span
            key={`${system}/${from}`}
            className={css.place}
            style={{
              left: `${Math.max(0, x(from))}%`,
              maxWidth: `${Math.min(100, x(to ?? view.to)) - Math.max(0, x(from))}%`,
            }}
          >
            {systemName}
          </span>
        ))}
      </div>
      <figcaption className={css.soft}>
        {clock.day(view.from)} {clock.year(view.from)} to {clock.day(view.to)} {clock.year(view.to)}. Filled:
        range of its home water. Bars: 5 to 95 % of each month; line: median. Hatched: no readings. The table
        below has the same data.
      </figcaption>
    </figure>
  );
}

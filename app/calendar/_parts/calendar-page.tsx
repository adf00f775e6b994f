import { Button } from "#app/_components/controls/button.tsx";
import { PrintButton } from "#app/_components/controls/print-button.tsx";
import type { CalendarItem, CalendarView } from "#contract/calendar.ts";
import { monthName } from "#core/time/month-names.ts";
import { monthShort, WEEKDAYS } from "#core/time/names.ts";
import { clockOf, type ZoneClock } from "#core/time/zone-clock.ts";
import css from "./calendar.module.css";
import { type DayOfMonth, daysOf, isSpan, weeksOf } from "./month-days.ts";

/** "November 2026". */
function monthWords(month: string): string {
  const [year, of] = month.split("-");
  return `${monthName(Number(of))} ${year}`;
}
const pathOf = (view: CalendarView, month: string) =>
  `/calendar?month=${month}${view.system === null ? "" : `&system=${encodeURIComponent(view.system)}`}`;

/** "25 Nov" of "2026-11-25". */
const dateWords = (date: string | null, none: string) =>
  date === null ? none : `${Number(date.slice(8))} ${monthShort(Number(date.slice(5, 7)))}`;

const isLoud = ({ stand }: CalendarItem) => stand === "due" || stand === "overdue";

function Item({
  view,
  item,
  edge,
  clock,
}: {
  readonly view: CalendarView;
  readonly item: CalendarItem;
  readonly edge: string;
  readonly clock: ZoneClock;
}) {
  const at = edge === "ends" ? item.to : item.from;
  return (
    <li data-kind={item.kind} data-stand={item.stand}>
      <a href={item.href}>
        <span className={css.kind}>
          {item.label}
          {edge === "" || item.kind === "calibration" ? "" : ` ${edge}`}
        </span>{" "}
        {item.says}
      </a>{" "}
      <small>
        {isLoud(item) ? <b>{item.stand}</b> : item.stand}
        {view.system === null ? ` · ${item.systemName}` : ""}
        {at === null ? "" : ` · ${clock.clock(at)}`}
      </small>
    </li>
  );
}

function Cell({
  view,
  of,
  clock,
}: {
  readonly view: CalendarView;
  readonly of: DayOfMonth | null;
  readonly clock: ZoneClock;
}) {
  if (of === null) return <td className={css.other} />;
  const { day, items, bars } = of;
  const isToday = day.date === view.today;
  return (
    <td
      className={css.day}
      data-date={day.date}
      data-today={isToday || undefined}
      data-empty={(items.length === 0 && !isToday) || undefined}
    >
      <p className={css.date}>
        <time dateTime={day.date}>
          <span className={css.weekday}>{WEEKDAYS[day.weekday - 1]} </span>
          {Number(day.date.slice(8))}
        </time>
        {isToday && <b>today</b>}
        {day.hours !== 24 && <small>{day.hours} h: clocks change</small>}
      </p>
      {bars.map(({ item, named }) => (
        <p
          key={item.id}
          className={css.bar}
          data-kind={item.kind}
          data-stand={item.stand}
          aria-hidden={named ? undefined : true}
        >
          {named ? item.says : " "}
        </p>
      ))}
      {items.length > 0 && (
        <ul>
          {items.map(({ item, edge }) => (
            <Item key={item.id} view={view} item={item} edge={edge} clock={clock} />
          ))}
        </ul>
      )}
    </td>
  );
}

function Tools({ view }: { readonly view: CalendarView }) {
  return (
    <div className={`${css.tools} no-print`}>
      <nav aria-label="Month" className={css.months}>
        <a href={pathOf(view, view.before)} rel="prev">
          {monthWords(view.before)}
        </a>
        {view.today.slice(0, 7) !== view.month && (
          <a href={pathOf(view, view.today.slice(0, 7))}>this month</a>
        )}
        <a href={pathOf(view, view.after)} rel="next">
          {monthWords(view.after)}
        </a>
      </nav>
      <form method="get">
        <input type="hidden" name="month" value={view.month} />
        <label>
          System{" "}
          <select name="system" defaultValue={view.system ?? ""}>
            <option value="">all systems</option>
            {view.systems.map(({ system, name }) => (
              <option key={system} value={system}>
                {name}
              </option>
            ))}
          </select>
        </label>
        <Button type="submit">Show</Button>
      </form>
      <PrintButton />
    </div>
  );
}

/** What lasts several days, shown once: a phone has no room for bars, and a reader of the page no eyes for them. */
function GoingOn({ view }: { readonly view: CalendarView }) {
  const spans = view.items.filter(isSpan);
  if (spans.length === 0) return null;
  return (
    <section aria-labelledby="going-on">
      <h2 id="going-on">Over several days</h2>
      <ul className={css.spans}>
        {spans.map((item) => (
          <li key={item.id} data-kind={item.kind} data-stand={item.stand}>
            <a href={item.href}>
              <span className={css.kind}>{item.label}</span> {item.says}
            </a>{" "}
            <small>
              {isLoud(item) ? <b>{item.stand}</b> : item.stand}
              {view.system === null ? ` · ${item.systemName}` : ""} · {dateWords(item.fromDate, "not known")}{" "}
              to {dateWords(item.toDate, "open")}
            </small>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** A month of what is dated: a grid on a desk, a list of its days on a phone. Drawn by the server. */
export function CalendarPage({ view }: { readonly view: CalendarView }) {
  const clock = clockOf(view.zone);
  const weeks = weeksOf(daysOf(view));
  return (
    <main id="main" className={css.page}>
      <div className={css.head}>
        <h1>
          {view.name === null ? "Calendar" : `Calendar for ${view.name}`}, {monthWords(view.month)}
        </h1>
        <span>dates at the site, {view.zone}</span>
        {view.system !== null && (
          <a className="no-print" href={`/systems/${encodeURIComponent(view.system)}`}>
            Charts
          </a>
        )}
      </div>
      <Tools view={view} />
      {view.items.length === 0 && (
        <p className={css.nothing}>
          Nothing this month: no breeding window, life stage, adopted set-point, calibration or declared work.
        </p>
      )}
      <GoingOn view={view} />
      <table className={css.grid}>
        <caption className="unseen">Days of {monthWords(view.month)}</caption>
        <thead>
          <tr>
            {WEEKDAYS.map((weekday) => (
              <th key={weekday} scope="col">
                {weekday}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {weeks.map((week) => {
            const first = week.find((of) => of !== null);
            return (
              <tr key={first?.day.date}>
                {week.map((of, i) => (
                  <Cell key={of?.day.date ?? WEEKDAYS[i]} view={view} of={of} clock={clock} />
                ))}
              </tr>
            );
          })}
        </tbody>
      </table>
      <p className={css.soft}>
        Breeding windows run from the first day plus the shortest time to the last day plus the longest,
        unless someone has narrowed them. Set-points are from adopted plans. Calibration due dates depend on
        the kind of probe (common practice, no source). Dates are those at each system’s site.
      </p>
    </main>
  );
}

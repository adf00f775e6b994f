"use client";

import { useMemo } from "react";
import type { Span } from "#app/_components/drawing/chart-data.ts";
import type { LogMark } from "#app/_components/drawing/log-marks.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { roundTo } from "#core/units/rounding.ts";
import css from "./time-lane.module.css";
import { ticksOf } from "./time-ticks.ts";
import type { WatchBar } from "./watch-bars.ts";

const MOST_TICKS = 9;
const MOST_TICKS_NARROW = 4;
/** A label needs at least this share of the lane, or only its dot stands there. */
const LEAST_ROOM = 0.045;

/** "Tue 24 Nov"; on a phone the weekday makes way, or two days would run into each other. */
function TickLabel({ label }: { readonly label: string }) {
  const [, weekday, rest] = /^(\p{L}+ )(\d.*)$/u.exec(label) ?? [];
  if (weekday === undefined) return label;
  return (
    <>
      <span className={css.weekday}>{weekday}</span>
      {rest}
    </>
  );
}

/** More bars than these would push the charts out of sight; the section of residents names them all. */
const MOST_BARS = 3;

/** Times in which a birth or hatching is awaited, as bars over the time they hold, one below the other. */
function WatchBars({ span, bars }: { readonly span: Span; readonly bars: readonly WatchBar[] }) {
  const shown = bars.filter((bar) => bar.from < span.to && bar.to > span.from).slice(0, MOST_BARS);
  if (shown.length === 0) return null;
  const percent = (at: number) =>
    (100 * (Math.min(Math.max(at, span.from), span.to) - span.from)) / (span.to - span.from);
  return (
    <ul className={css.watches} aria-label="Births and hatchings expected">
      {shown.map((bar) => {
        const [left, right] = [percent(bar.from), percent(bar.to)];
        return (
          <li
            key={bar.id}
            title={bar.says}
            data-watch-bar={bar.isOver ? "overdue" : "window"}
            style={{ marginLeft: `${roundTo(left, 2)}%`, width: `${roundTo(right - left, 2)}%` }}
          >
            <span>{bar.label}</span>
            <span className="unseen"> {bar.says}</span>
          </li>
        );
      })}
    </ul>
  );
}

/** The one time axis of all charts below it, and over it what people did. It stays in sight while the charts scroll by. */
export function TimeLane({
  span,
  clock,
  marks,
  bars,
  failed,
}: {
  readonly span: Span;
  readonly clock: ZoneClock;
  readonly marks: readonly LogMark[];
  readonly bars: readonly WatchBar[];
  readonly failed: string;
}) {
  const length = span.to - span.from;
  const place = (at: number) => `${Math.round(((at - span.from) / length) * 1e4) / 100}%`;
  const wide = useMemo(() => ticksOf(span, clock, MOST_TICKS), [span, clock]);
  const narrow = useMemo(
    () => new Set(ticksOf(span, clock, MOST_TICKS_NARROW).map((t) => t.at)),
    [span, clock],
  );
  const shown = marks.filter((mark) => mark.at >= span.from && mark.at <= span.to);
  return (
    <div className={css.lane}>
      <p className={css.name}>{failed === "" ? "Logbook" : <span title={failed}>Logbook not loaded</span>}</p>
      <div className={css.track}>
        <WatchBars span={span} bars={bars} />
        {shown.length > 0 && (
          <ul className={css.marks} aria-label="Logbook entries">
            {shown.map((mark, i) => {
              const room = ((shown[i + 1]?.at ?? span.to) - mark.at) / length;
              return (
                <li
                  key={mark.id}
                  title={`${clock.dayClock(mark.at)} ${mark.says}`}
                  style={{ left: place(mark.at), width: `calc(${Math.round(room * 1e4) / 100}% - 0.25rem)` }}
                >
                  <span className={room < LEAST_ROOM ? "unseen" : undefined}>
                    <span className="unseen">{clock.dayClock(mark.at)} </span>
                    {mark.label}
                  </span>
                </li>
              );
            })}
          </ul>
        )}
        <ol className={css.ticks} aria-hidden="true">
          {wide.map((tick) => (
            <li
              key={tick.at}
              className={tick.isHead ? css.head : undefined}
              data-narrow={narrow.has(tick.at) ? "" : undefined}
              style={{ left: place(tick.at) }}
            >
              <TickLabel label={tick.label} />
            </li>
          ))}
        </ol>
      </div>
    </div>
  );
}

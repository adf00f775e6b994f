import { nextHour, type Span } from "#app/_components/drawing/chart-data.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { monthShort } from "#core/time/names.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";

export interface Tick {
  readonly at: number;
  readonly label: string;
  /** Begins a day, month or year: said with more weight. */
  readonly isHead: boolean;
}

const STEPS = [5, 10, 15, 30].map((n) => n * MINUTE).concat([1, 2, 3, 6, 12].map((n) => n * HOUR));
const DAYS = [1, 2, 7, 14];

/** The site's midnight at or after a moment; site days have 23, 24 or 25 hours. */
function midnight(at: number, clock: ZoneClock): number {
  return clock.hour(at) === 0 ? at : nextHour(at, 0, clock);
}

const dayNumber = (clock: ZoneClock, at: number): number => Number(clock.day(at).split(" ")[1]);
const monthName = (clock: ZoneClock, at: number): string => monthShort(clock.month(at));

function withinDays(span: Span, step: number, clock: ZoneClock): Tick[] {
  const ticks: Tick[] = [];
  let start = midnight(span.from - DAY - HOUR, clock);
  while (start <= span.to) {
    const end = midnight(start + MINUTE, clock);
    for (let at = start; at < end; at += step) {
      if (at < span.from || at > span.to) continue;
      ticks.push({ at, label: at === start ? clock.day(at) : clock.clock(at), isHead: at === start });
    }
    start = end;
  }
  return ticks;
}

function midnights(span: Span, clock: ZoneClock): number[] {
  const out: number[] = [];
  for (let at = midnight(span.from, clock); at <= span.to; at = midnight(at + MINUTE, clock)) out.push(at);
  return out;
}

/** First days of the months; asking the clock is dear, so the days between are leapt over. */
function firstDays(span: Span, clock: ZoneClock): number[] {
  const out: number[] = [];
  let at = midnight(span.from, clock);
  while (at <= span.to) {
    const day = dayNumber(clock, at);
    if (day === 1) out.push(at);
    at = midnight(at + (day < 28 ? 28 - day : 1) * DAY - 2 * HOUR, clock);
  }
  return out;
}

/** Times to write over a window, in the site's zone and at most `most` of them: hours, days, or first days of months. */
export function ticksOf(span: Span, clock: ZoneClock, most: number): Tick[] {
  const length = span.to - span.from;
  const step = STEPS.find((s) => length / s <= most);
  if (step !== undefined) return withinDays(span, step, clock);
  const days = DAYS.find((n) => length / (n * DAY) <= most);
  if (days !== undefined) {
    return midnights(span, clock)
      .filter((at) => Math.round(at / DAY) % days === 0)
      .map((at) => ({
        at,
        label: clock.day(at).split(" ").slice(1).join(" "),
        isHead: dayNumber(clock, at) === 1,
      }));
  }
  const firsts = firstDays(span, clock);
  const every = Math.max(1, Math.ceil(firsts.length / most));
  return firsts
    .filter((_, i) => i % every === 0)
    .map((at) => ({
      at,
      label: clock.month(at) === 1 ? clock.year(at) : monthName(clock, at),
      isHead: clock.month(at) === 1,
    }));
}

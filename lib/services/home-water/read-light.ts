import type { LightView } from "#contract/home-water.ts";
import { lightSentence } from "#core/home-water/index.ts";
import {
  type DayLight,
  dayLightOf,
  judgeDay,
  LENGTH_MINUTES,
  type LightSample,
  lightFindings,
  lightStreamOf,
  PHASE_MINUTES,
  scheduleAt,
} from "#core/light/index.ts";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import { DAY, HOUR, type Instant, MINUTE } from "#core/time/instant.ts";
import { siteDay } from "#core/time/site-time.ts";
import type { Span } from "#core/time/spans.ts";
import { dayMonth } from "#core/time/wall-time.ts";
import type { Habitat, Store, Stream } from "#store/port.ts";
import type { SystemSetUp } from "../set-up.ts";

/** Readings farther apart than this are read one by one: the middle of a quarter hour is not the time of its only reading. */
const SPARSE = 5 * MINUTE;
const MOST_ROWS = 120_000;

async function samplesOf(store: Store, stream: Stream, from: Instant, to: Instant): Promise<LightSample[]> {
  const isSparse = stream.interval === null || stream.interval >= SPARSE;
  const resolution = isSparse ? "raw" : "15min";
  const shift = isSparse ? 0 : QUARTER_HOUR / 2;
  const { at, mean } = await store.readSeries({ stream: stream.id, from, to, resolution, limit: MOST_ROWS });
  return at.flatMap((when, i) => {
    const value = mean[i] ?? null;
    return value === null ? [] : [{ at: when + shift, value }];
  });
}

function daysOf(samples: readonly LightSample[], { from, to }: Span, zone: string): DayLight[] {
  const days: DayLight[] = [];
  let first = 0;
  for (let day = siteDay(from, zone); day.start < to; day = siteDay(day.end + HOUR, zone)) {
    // Today is not over: its length is not known yet.
    if (day.end > to) break;
    while (first < samples.length && (samples[first] as LightSample).at < day.start - 2 * HOUR) first += 1;
    let last = first;
    while (last < samples.length && (samples[last] as LightSample).at < day.end + 2 * HOUR) last += 1;
    days.push(dayLightOf(samples.slice(first, last), day.start, day.end));
  }
  return days;
}

const shareWithin = (offs: readonly (number | null)[], limit: number) => {
  const known = offs.filter((off): off is number => off !== null);
  return { days: known.length, within: known.filter((off) => Math.abs(off) <= limit).length };
};

/** Lit hours, dawn and dusk by the day, length and phase judged apart against plan and home latitude; null where no light is measured. */
export async function readLight(
  store: Store,
  at: SystemSetUp,
  habitat: Habitat,
  within: Span,
): Promise<LightView | null> {
  const stream = lightStreamOf(at.streams);
  if (!stream || within.from >= within.to) return null;
  const { zone } = at.site;
  const plans = habitat.lightPlans.filter((plan) => plan.system === at.system.id);
  const planAt = (instant: Instant) => scheduleAt(plans, instant);
  const samples = await samplesOf(store, stream, within.from - DAY, within.to);
  const days = daysOf(samples, within, zone).map((day) => judgeDay(day, planAt(day.start), zone));
  const measured = days.findIndex((day) => day.hours !== null);
  if (measured < 0) return null;
  const told = days.slice(measured);
  const plan = planAt(within.to - 1);
  return {
    point: stream.pointCode,
    quantity: stream.quantity,
    plan: plan && {
      middle: plan.middle,
      latitude: plan.latitude,
      shiftDays: plan.shiftDays,
      source: plan.source,
      setBy: plan.setBy,
    },
    days: told.map(({ start, hours, dawn, dusk, planned, native, phaseOff }) => ({
      start,
      hours,
      dawn: dawn === null ? null : Math.round(dawn),
      dusk: dusk === null ? null : Math.round(dusk),
      planned,
      native,
      phaseOff,
    })),
    findings: lightFindings(told).map(({ kind, severity, from, to, off, clockChange }) => ({
      kind,
      severity,
      from,
      to,
      off,
      says: lightSentence({
        kind,
        off,
        from: dayMonth(from, zone),
        to: to === null ? null : dayMonth(to - HOUR, zone),
        isClockChange: clockChange !== null,
      }),
    })),
    lengthFit: shareWithin(
      told.map((day) => day.nativeOff ?? day.lengthOff),
      LENGTH_MINUTES.well,
    ),
    phaseFit: shareWithin(
      told.map((day) => day.phaseOff),
      PHASE_MINUTES.well,
    ),
  };
}

/** What a light sensor says of one day: how long it was lit, from when to when. */
import { nearestRank } from "../statistics/robust.ts";
import { HOUR, type Instant, MINUTE } from "../time/instant.ts";

export interface LightSample {
  readonly at: Instant;
  /** lx or umol/m2/s; only their shape over the day counts. */
  readonly value: number;
}
export interface DayLight {
  /** Site day [start, end). */
  readonly start: Instant;
  readonly end: Instant;
  /** Hours lit; null where too little of the day was measured. */
  readonly hours: number | null;
  /** First time the light comes up and last time it goes down; null where it was lit across midnight, or never. */
  readonly dawn: Instant | null;
  readonly dusk: Instant | null;
  /** Share of the day within 30 min of a sample. */
  readonly covered: number;
  /** Times it went dark between dawn and dusk. */
  readonly breaks: number;
  /** The value above which it counted as lit; missing where there was no such. */
  readonly threshold?: number;
}

/** Where light counts as on: half way between the night's floor and the day's plateau, so that a ramp counts from its middle. Common practice, no source. */
const LIT_SHARE = 0.5;
/** A sensor in the dark still flickers by a fraction of a lux; a day whose plateau is no brighter was dark. Common practice, no source. */
const DARKEST_DAY = 5;
const LONGEST_GAP = 60 * MINUTE;
const LEAST_COVERED = 0.8;
/** The plateau is passed by a fiftieth of the samples, so that one flash does not make it. */
const PLATEAU = 0.98;

const unknown = (start: Instant, end: Instant, covered: number): DayLight => ({
  start,
  end,
  hours: null,
  dawn: null,
  dusk: null,
  covered,
  breaks: 0,
});

/**
 * Lit hours, dawn and dusk of a site day [start, end) from its samples, rising in time (those just outside the day help at its ends). The light
 * passes half of the day's plateau at dawn and dusk, linear between samples; across a gap of more than an hour nothing is said, and with less than
 * 80 % of the day covered hours are null. A day no brighter than 5 is dark: 0 h. Good to half the time between samples.
 */
export function dayLightOf(samples: readonly LightSample[], start: Instant, end: Instant): DayLight {
  const within = samples.filter(({ at }) => at >= start && at < end);
  const gaps: number[] = [];
  let covered = 0;
  const near = samples.filter(({ at }) => at >= start - LONGEST_GAP && at < end + LONGEST_GAP);
  for (let i = 1; i < near.length; i += 1) {
    const [a, b] = [near[i - 1] as LightSample, near[i] as LightSample];
    if (b.at - a.at > LONGEST_GAP) gaps.push(a.at);
    else covered += Math.max(0, Math.min(b.at, end) - Math.max(a.at, start));
  }
  const share = covered / (end - start);
  if (within.length === 0 || share < LEAST_COVERED) return unknown(start, end, share);
  const sorted = within.map(({ value }) => value).sort((a, b) => a - b);
  const [floor, plateau] = [sorted[0] ?? 0, nearestRank(sorted, PLATEAU)];
  const isFlat = plateau - floor < DARKEST_DAY || plateau < 2 * floor;
  if (isFlat) {
    const hours = plateau < DARKEST_DAY ? 0 : ((end - start) / HOUR) * share;
    return { ...unknown(start, end, share), hours };
  }
  const threshold = floor + LIT_SHARE * (plateau - floor);
  let lit = 0;
  let dawn: Instant | null = null;
  let dusk: Instant | null = null;
  let downs = 0;
  const clip = (at: Instant) => Math.min(end, Math.max(start, at));
  for (let i = 1; i < near.length; i += 1) {
    const [a, b] = [near[i - 1] as LightSample, near[i] as LightSample];
    if (b.at - a.at > LONGEST_GAP) continue;
    const [wasLit, isLit] = [a.value > threshold, b.value > threshold];
    const crossing = a.at + ((b.at - a.at) * (threshold - a.value)) / (b.value - a.value);
    if (wasLit && isLit) lit += clip(b.at) - clip(a.at);
    else if (wasLit) lit += clip(crossing) - clip(a.at);
    else if (isLit) lit += clip(b.at) - clip(crossing);
    if (wasLit === isLit || crossing < start || crossing >= end) continue;
    if (isLit) dawn ??= crossing;
    else {
      dusk = crossing;
      downs += 1;
    }
  }
  const isWhole = dawn !== null && dusk !== null && dusk > dawn;
  return {
    start,
    end,
    hours: lit / HOUR,
    dawn: isWhole ? dawn : null,
    dusk: isWhole ? dusk : null,
    covered: share,
    breaks: isWhole ? downs - 1 : 0,
    threshold,
  };
}

import { rateWords } from "#app/_components/words/number-words.ts";
import type { SeriesView, StreamState } from "#contract/views.ts";
import { MINUTE } from "#core/time/instant.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { resultText } from "#core/units/bound-text.ts";
import { numberText } from "#core/units/number-text.ts";
import { roundTo } from "#core/units/rounding.ts";

/** A probe's reading speaks for the moment of a bench test when it lies at most so far from it: common practice, no source. */
const TOGETHER = 30 * MINUTE;
/** Coarser columns are means over hours, in which a difference to one sample says little. */
const FINEST = 15 * MINUTE;

/** True where the value would leave its band within twelve hours if it went on; a rate that leads nowhere is no news. */
function leavesSoon({ value, rate, band }: StreamState): boolean {
  if (value === null || rate === null || band === null) return false;
  const then = value + 12 * rate;
  return (
    (band.high !== null && rate > 0 && then > band.high) || (band.low !== null && rate < 0 && then < band.low)
  );
}

/** ", +0.24 °C an hour" where that would lead out of the band within twelve hours. */
export function movingWords(stream: StreamState): string {
  if (!leavesSoon(stream) || stream.rate === null) return "";
  return `, ${rateWords(stream.rate, stream.decimals, stream.unitLabel)}`;
}

/** What the probe read at the moment of a bench test, from the columns of its chart; null where it cannot be told. */
function probeThen(series: SeriesView, at: number): number | null {
  if (series.step !== null && series.step > FINEST) return null;
  const half = (series.step ?? 0) / 2;
  let [best, far] = [null as number | null, TOGETHER];
  series.columns.at.forEach((start, i) => {
    const value = series.columns.mean[i];
    const away = Math.abs(start + half - at);
    if (value != null && (series.columns.flag[i] ?? 1) < 3 && away <= far) [best, far] = [value, away];
  });
  return best;
}

/**
 * How the last bench test stands to the probe: "bench 25.6 Tue 08:50 agrees", "bench 8.10 Tue 08:50, probe 0.04 above". Only the test where
 * the probe's reading then is not known; empty where there is none.
 */
export function benchWords(
  stream: StreamState,
  series: SeriesView | null,
  bench: SeriesView | null,
  clock: ZoneClock,
  now: number,
): string {
  const last = (bench?.columns.at.length ?? 0) - 1;
  const at = bench?.columns.at[last];
  const value = bench?.columns.mean[last];
  if (bench === null || at === undefined || value == null) return "";
  const qualifier = bench.columns.qualifier?.[last] ?? "=";
  const test = `bench ${resultText(value, qualifier, stream.decimals)}, ${clock.near(at, now)}`;
  const probe = series === null || qualifier !== "=" ? null : probeThen(series, at);
  if (probe === null) return test;
  const apart = numberText(Math.abs(probe - value), stream.decimals);
  return roundTo(probe - value, stream.decimals) === 0
    ? `${test}: agrees`
    : `${test}: probe ${apart} ${probe > value ? "above" : "below"}`;
}

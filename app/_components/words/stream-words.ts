import type { FindingView, StreamState } from "#contract/views.ts";
import { levelOf } from "#core/alarms/finding.ts";
import { REASON_WORDS, type Reason } from "#core/quality/flag.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { edgeText, numberText, rangeText, withUnit } from "#core/units/number-text.ts";
import { roundTo } from "#core/units/rounding.ts";
import { rateWords } from "./number-words.ts";
import { pointWords } from "./point-words.ts";
import { SEEN_WORD, STANDING_WORD, seenAs } from "./standing-words.ts";

/** What a stream is called beside others: "Turbidity", "Flow pump 2", and "Pump 1" rather than "Pump pump 1". */
export function streamName(stream: StreamState): string {
  const point = pointWords(stream.point);
  if (stream.point === "display") return stream.label;
  const repeats = point.toLowerCase().startsWith(stream.label.toLowerCase());
  return repeats ? point.charAt(0).toUpperCase() + point.slice(1) : `${stream.label} ${point}`;
}

export const reasonWords = (reason: string): string =>
  Object.hasOwn(REASON_WORDS, reason) ? REASON_WORDS[reason as Reason] : pointWords(reason);

export function findingOf(stream: StreamState, findings: readonly FindingView[]): FindingView | undefined {
  return findings
    .filter((f) => f.quantity === stream.quantity && f.point === stream.point)
    .sort((a, b) => levelOf(b.severity) - levelOf(a.severity) || a.began - b.began)[0];
}

/**
 * What stands under a value that is not as it should be, word first: "needs action since 19:44", "silent since 06:30",
 * "suspect, ...". Empty where the value is in its band.
 */
export function noteOf(
  stream: StreamState,
  findings: readonly FindingView[],
  clock: ZoneClock,
  now: number,
): string {
  const seen = seenAs(stream);
  if (seen === "calm") return "";
  const since = (at: number | null) => (at === null ? "" : ` since ${clock.near(at, now)}`);
  if (seen === "unknown" || seen === "doubtful") {
    // A finding asks for somebody although the probe now says nothing: both are said, the asking first.
    const asks =
      stream.standing === "action" || stream.standing === "look" ? `${STANDING_WORD[stream.standing]}: ` : "";
    if (stream.silent) {
      // A derived value does not fall silent: what it is computed from is missing.
      const word = stream.origin === "derived" ? reasonWords(stream.reasons[0] ?? "input_missing") : "silent";
      return `${asks}${word}${stream.origin === "derived" && stream.at !== null ? "," : ""}${since(stream.at)}`;
    }
    const why = stream.reasons[0] === undefined ? "" : reasonWords(stream.reasons[0]);
    if (seen === "unknown") return `${asks}${why || "no reading yet"}`;
    if (why !== "") return `${asks}suspect, ${why}`;
    return `${asks}${stream.flag >= 3 ? "probe suspect" : "not proven"}`;
  }
  const finding = findingOf(stream, findings);
  if (
    finding !== undefined &&
    // By name: the table of kinds stays out of the script that a page begins with.
    finding.kind === "too fast" &&
    stream.rate !== null &&
    (stream.deviation ?? 0) === 0
  ) {
    return `${SEEN_WORD[seen]}: ${rateWords(stream.rate, stream.decimals, stream.unitLabel)}`;
  }
  return `${SEEN_WORD[seen]}${since(finding?.began ?? null)}`;
}

function limitWords(low: number | null, high: number | null, decimals: number): string {
  const sides = [low, high].filter((v) => v !== null).map((v) => edgeText(v, decimals));
  if (sides.length === 0) return "No action limit.";
  return `Action ${sides.length === 1 ? "limit" : "limits"} ${sides.join(" and ")}.`;
}

/** The target band in words, "target 24.5 to 27.0 °C"; says so where none is set. */
export function bandWords(stream: StreamState): string {
  const band = stream.band;
  if (band === null || (band.low === null && band.high === null)) return "no target band set";
  return `target ${rangeText(band, stream.decimals)}${stream.unitLabel === "" ? "" : ` ${stream.unitLabel}`}`;
}

/** What the strip shows, for somebody who does not see it. */
export function stripSentence(stream: StreamState): string {
  const seen = seenAs(stream);
  const said: string[] = [];
  const word = seen === "calm" && stream.band === null ? "no target band" : SEEN_WORD[seen];
  const value = stream.value === null ? "" : ` ${withUnit(stream.value, stream.decimals, stream.unitLabel)}`;
  said.push(`${stream.label}${seen === "unknown" ? "" : value}, ${word}.`);
  if (stream.band !== null) {
    const words = bandWords(stream);
    said.push(`${words.charAt(0).toUpperCase()}${words.slice(1)}.`);
    said.push(limitWords(stream.band.actionLow, stream.band.actionHigh, stream.decimals));
  }
  if (stream.rate !== null && roundTo(stream.rate, stream.decimals + 1) !== 0) {
    said.push(`${rateWords(stream.rate, stream.decimals, stream.unitLabel)}.`);
  }
  if (stream.sweepLow !== null && stream.sweepHigh !== null) {
    const low = numberText(stream.sweepLow, stream.decimals);
    const high = numberText(stream.sweepHigh, stream.decimals);
    said.push(low === high ? `${low} since 18:00.` : `Between ${low} and ${high} since 18:00.`);
  }
  if (stream.muted) said.push(stream.muted);
  if (stream.plan !== null) said.push(`Plan ${numberText(stream.plan, stream.decimals)}.`);
  return said.join(" ");
}

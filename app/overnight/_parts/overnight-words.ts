import { rateWords } from "#app/_components/words/number-words.ts";
import { pointWords } from "#app/_components/words/point-words.ts";
import type { FindingView, NightGroup, OvernightView, TimeLeftView } from "#contract/views.ts";
import { traitsOf } from "#core/alarms/kinds.ts";
import { durationText } from "#core/time/duration-text.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import { edgeText, withUnit } from "#core/units/number-text.ts";
import { reachedPercent } from "#core/units/share-text.ts";

export const GROUP_TITLES: Readonly<Record<NightGroup, string>> = {
  unanswered: "Active, not acknowledged",
  ended: "Over, not acknowledged",
  answered: "Active, acknowledged",
  look: "Active, nothing to acknowledge",
  recovering: "Recovering",
  unknown: "Not known",
  over: "Came and went",
};

/** Ranges that can be asked for in the address; the first is what a shift reads. */
export const NIGHT_RANGES = [
  { id: "", label: "this shift", hours: 0 },
  { id: "24h", label: "24 h", hours: 24 },
  { id: "3d", label: "3 days", hours: 72 },
  { id: "2w", label: "2 weeks", hours: 336 },
] as const;

const SMALL = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
/** Small numbers as words, as in a sentence; larger ones in figures. */
export const countWord = (n: number): string => SMALL[n] ?? String(n);
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Streams that got fewer of their readings than this are named; one missing alone, at the edge of the range, is not a gap. */
export const COMPLETE = 0.99;

/** What of the completeness is worth showing: streams below 99 %. The sum over all of them is in the summary. */
export const incomplete = (view: OvernightView): OvernightView["completeness"] =>
  view.completeness.filter((row) => row.share < COMPLETE && row.expected - row.got > 1);

const NAMED_GAPS = 3;

/** "Rift Terrace temperature since 06:30, Reef Lagoon pH 92.1 %". */
function gapWords(view: OvernightView, clock: ZoneClock): string {
  const gaps = incomplete(view);
  const since = new Map(view.unknown.map((row) => [`${row.system}/${row.quantity}`, row.since]));
  const said = gaps.slice(0, NAMED_GAPS).map((row) => {
    const at = since.get(`${row.system}/${row.quantity}`);
    const label = view.labels[row.quantity] ?? row.quantity;
    const point = row.point === "display" ? "" : ` (${pointWords(row.point)})`;
    const what = `${view.names[row.system] ?? row.system} ${labelInSentence(label)}${point}`;
    if (row.got === 0) return `${what}, no readings`;
    return at == null || at < view.from
      ? `${what} ${reachedPercent(row.share)}`
      : `${what} since ${clock.near(at, view.to)}`;
  });
  if (gaps.length > NAMED_GAPS) said.push(`${gaps.length - NAMED_GAPS} more below`);
  return said.join("; ");
}

/** What is unanswered, as the handover counts it: "3 not acknowledged, 2 without a response". */
export function askingWords(unanswered: number, withoutResponse: number, unlisted: number): string {
  const parts = [
    unanswered === 0 ? "" : `${unanswered} not acknowledged`,
    withoutResponse === 0 ? "" : `${withoutResponse} without a response`,
    unlisted === 0 ? "" : `${unlisted} whose finding was judged anew`,
  ].filter((part) => part !== "");
  return parts.length === 0 ? "all alarms acknowledged" : parts.join(", ");
}

const are = (n: number) => (n === 1 ? "is" : "are");

/** The night in one paragraph: what is unanswered, worse, recovering, not known, calm; how complete the readings are. */
export function nightWords(
  view: OvernightView,
  unanswered: number,
  clock: ZoneClock,
  calmFor = "all night",
  withoutResponse = 0,
): string {
  const { worse, recovering, unknown, calm, share } = view.summary;
  const alarms =
    unanswered === 0
      ? "No unacknowledged alarms."
      : `${capital(countWord(unanswered))} unacknowledged ${unanswered === 1 ? "alarm" : "alarms"}.`;
  const responses =
    withoutResponse === 0
      ? ""
      : ` ${capital(countWord(withoutResponse))} acknowledged ${withoutResponse === 1 ? "alarm has" : "alarms have"} no response in the logbook.`;
  const parts: string[] = [];
  const noun = (n: number) => (parts.length > 0 ? "" : n === 1 ? " system" : " systems");
  if (worse > 0) parts.push(`${countWord(worse)}${noun(worse)} ${are(worse)} getting worse`);
  if (recovering > 0) parts.push(`${countWord(recovering)}${noun(recovering)} ${are(recovering)} recovering`);
  if (unknown > 0) parts.push(`${countWord(unknown)}${noun(unknown)} ${are(unknown)} not known`);
  parts.push(
    `${calm === 0 && parts.length > 0 ? "none" : countWord(calm)}${noun(calm)} stayed calm ${calmFor}`,
  );
  const systems = `${capital(parts.join(", "))}.`;
  return [alarms + responses, systems, completeWords(view, share, clock)].join(" ");
}

function completeWords(view: OvernightView, share: number | null, clock: ZoneClock): string {
  if (share === null) return "No stream has a known interval yet, so gaps cannot be counted.";
  const n = incomplete(view).length;
  const gaps = n === 0 ? "no stream has a gap" : `the ${n === 1 ? "gap" : "gaps"}: ${gapWords(view, clock)}`;
  return `${reachedPercent(share)} of expected readings arrived; ${gaps}.`;
}

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

/** An interval of time, rounded outward: "15–35 min", "8–10 h", "2–4 days"; "at any moment" where it may be now. */
export function spanWords(from: number, to: number): string {
  const [unit, word] = to < 100 * MINUTE ? [MINUTE, "min"] : to < 48 * HOUR ? [HOUR, "h"] : [DAY, "days"];
  const step = unit === MINUTE ? 5 : 1;
  const low = Math.floor(from / unit / step) * step;
  const high = Math.max(Math.ceil(to / unit / step) * step, low + step);
  return low === 0 ? `within ${high} ${word}` : `in ${low}–${high} ${word}`;
}

function leftSpan({ from, to }: Extract<TimeLeftView, { kind: "reaches" }>): string {
  return to === null ? `in ${durationText(from)} at the earliest` : spanWords(from, to);
}

/** How long is left, as a sentence without its stop; "not known" is said, not left out. */
export function leftWords(left: TimeLeftView, decimals: number): string {
  switch (left.kind) {
    case "reaches": {
      const what = left.target === "edge" ? "leaves its band" : "reaches its action limit";
      return `${what} (${edgeText(left.value, decimals)}) ${leftSpan(left)}, ${left.isStated ? "90 % interval" : "rough"}`;
    }
    case "past":
      return `past its action limit (${edgeText(left.value, decimals)})`;
    case "not soon":
      return `not expected to reach ${edgeText(left.value, decimals)} within 7 days`;
    case "away":
      return "not moving towards its limit";
    case "open":
      return "no action limit on that side";
    case "not known":
      return "time left not known";
  }
}

const numberOf = (finding: FindingView, key: string): number | null => {
  const value = finding.evidence[key];
  return typeof value === "number" ? value : null;
};

/** A finding in one short line, for a phone at night: "Temperature 26.9 °C, limit 29.0". `value` is what is believed now. */
export function shortWords(finding: FindingView, value: number | null): string {
  const { quantityLabel: label, decimals, unitLabel, point } = finding;
  const name = point === "display" ? label : `${label}, ${pointWords(point)}`;
  // What was worst is not what is now.
  const isUnknown = value === null && finding.ended === null;
  const shown = isUnknown ? null : (value ?? numberOf(finding, "worst") ?? numberOf(finding, "value"));
  const now = shown === null ? name : `${name} ${withUnit(shown, decimals, unitLabel)}`;
  switch (traitsOf(finding).short) {
    case "not known":
      return `${name} ${finding.ended === null ? "not known" : "was silent"}`;
    case "word": {
      const word = String(finding.evidence.word ?? finding.rule).replaceAll("_", " ");
      return `${name} ${finding.ended === null ? "" : "was "}${word}`;
    }
    case "first clause":
      return finding.says.split(", ")[0] ?? name;
    case "value and rate": {
      const rate = numberOf(finding, "rate");
      const said = rate === null ? "changing too fast" : rateWords(rate, decimals, unitLabel);
      // The value it was raised at belongs neither to its beginning nor to its end, which are what it stands beside.
      return value === null ? `${name} ${said}` : `${now}, ${said}`;
    }
    case "value and edge":
      if (isUnknown) return finding.says.split(", ")[0] ?? name;
      return edgeLine(finding, now);
  }
}

function edgeLine(finding: FindingView, now: string): string {
  const isPast = Math.abs(numberOf(finding, "deviation") ?? 0) >= 1;
  const level = numberOf(finding, isPast ? "limit" : "edge");
  if (level === null) return now;
  const side = finding.rule.includes("low") ? "from" : "to";
  return `${now}, ${isPast ? "limit" : `band ${side}`} ${edgeText(level, finding.decimals)}`;
}

/** For how long it has been, or how long it was; since when is in its sentence. */
export const lastingWords = (finding: FindingView, now: number): string =>
  finding.ended === null
    ? `for ${durationText(now - finding.began)}`
    : `lasted ${durationText(finding.ended - finding.began)}`;

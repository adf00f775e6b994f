/**
 * Sentences about the course of a stream and about its probe. `alone` of a step is 1 where one reading only shows it; a drift says residual and
 * usual (against other days), or change and days (a trend; of `tests` bench results). Keys that are missing leave their clause out.
 */
import { durationText, longestText } from "../time/duration-text.ts";
import { DAY } from "../time/instant.ts";
import { dayMonth } from "../time/wall-time.ts";
import { edgeWithUnit, numberText, rangeText, withUnit } from "../units/number-text.ts";
import { slippedUnit } from "../units/unit-slip.ts";
import type { EvidenceKey, FindingKind } from "./finding.ts";
import { at, number, type Setting, shape, subject, text, type WordedFinding, when } from "./wording-parts.ts";

const was = (finding: WordedFinding): string => (finding.ended === null ? "" : "was ");

function sized<K extends FindingKind>(
  finding: WordedFinding<K>,
  key: EvidenceKey<K>,
  setting: Setting,
  more = 0,
): string | null {
  const value = number(finding, key);
  const { decimals, unitLabel } = shape(setting.spec);
  return value === null ? null : withUnit(Math.abs(value), decimals + more, unitLabel);
}

export function stepped(finding: WordedFinding<"stepped">, setting: Setting): string[] {
  const { decimals, unitLabel } = shape(setting.spec);
  const [from, to] = [number(finding, "from"), number(finding, "to")];
  if (finding.rule === "more" || finding.rule === "fewer") return counted(finding, setting, from, to);
  const way = finding.rule === "down" ? "down" : "up";
  const moment = finding.ended === null ? `at ${at(setting, finding.began)}` : when(finding, setting);
  if (from === null || to === null) return [`${subject(setting)} stepped ${way} ${moment}`];
  const by = withUnit(Math.abs(to - from), decimals, unitLabel);
  const parts = [
    `${subject(setting)} stepped ${way} by ${by} ${moment}`,
    `from ${numberText(from, decimals)} to ${withUnit(to, decimals, unitLabel)}`,
    ...slipped(setting, from, to),
  ];
  if (number(finding, "alone") === 1)
    parts.push(finding.ended === null ? "one reading so far" : "one reading only");
  return parts;
}

/** Animals, of which more or fewer were counted than last time. */
function counted(
  finding: WordedFinding<"stepped">,
  setting: Setting,
  from: number | null,
  to: number | null,
): string[] {
  const then = `${finding.rule} than the previous count, ${at(setting, finding.began)}`;
  if (from === null || to === null) return [`${subject(setting)}: ${then}`];
  return [`${subject(setting)}: ${numberText(to, 0)}, ${numberText(Math.abs(to - from), 0)} ${then}`];
}

/** What was sent is never converted by guess: the sentence says what it looks like, and people ask the sender. */
function slipped({ spec }: Setting, from: number, to: number): string[] {
  const other = spec.kind === "number" ? slippedUnit(spec, from, to) : null;
  return other === null ? [] : [`as if the sender had switched its unit to or from ${other.label}`];
}

export function noisy(finding: WordedFinding<"noisy">, setting: Setting): string[] {
  const jump = sized(finding, "jump", setting, 1);
  const usual = sized(finding, "usual", setting, 1);
  const by = jump === null ? "" : ` by ${jump}`;
  const parts = [
    `${subject(setting)} ${was(finding)}jumping${by} between readings ${when(finding, setting)}`,
  ];
  if (usual !== null) parts.push(`usually ${usual}`);
  return parts;
}

export function stuck(finding: WordedFinding<"stuck">, setting: Setting): string[] {
  const [held, value] = [number(finding, "held"), number(finding, "value")];
  const { decimals, unitLabel } = shape(setting.spec);
  const at = value === null ? "" : ` at ${withUnit(value, decimals, unitLabel)}`;
  const parts = [`${subject(setting)} ${was(finding)}stuck${at} ${when(finding, setting)}`];
  if (held !== null) parts.push(`counts as stuck after ${longestText(held)} unchanged`);
  return parts;
}

const SET_ASIDE = "what other probes there read is set aside";

export function exposed(finding: WordedFinding<"exposed">, setting: Setting): string[] {
  const { decimals, unitLabel } = shape(setting.spec);
  const value = number(finding, "value");
  const reads = value === null ? "" : ` (${withUnit(value, decimals, unitLabel)})`;
  const verb = finding.ended === null ? "reads" : "was reading";
  const how = finding.rule === "air" ? "as if in air" : "an impossible value";
  const before = number(finding, "before");
  return [
    `${subject(setting)} ${verb} ${how}${reads} ${when(finding, setting)}`,
    ...(before === null || value === null ? [] : slipped(setting, before, value)),
    ...(finding.rule === "air" && finding.ended === null ? [SET_ASIDE] : []),
  ];
}

/** What part of the water a usual change replaces, for what one would buy. Common practice, no source. */
const WATER_CHANGE = 0.2;

/** How fast results go, between which days they reach their limit, and what one change of water would buy where more of it harms. */
function aheadOf(finding: WordedFinding<"drifting">, setting: Setting): string[] {
  const [perDay, slowest, fastest] = [
    number(finding, "perDay"),
    number(finding, "slowest"),
    number(finding, "fastest"),
  ];
  const [limit, earliest] = [number(finding, "limit"), number(finding, "earliest")];
  if (perDay === null || slowest === null || fastest === null || limit === null || earliest === null)
    return [];
  const { decimals, unitLabel } = shape(setting.spec);
  const latest = number(finding, "latest");
  const rate = `${rangeText({ low: Math.max(0, slowest), high: fastest }, decimals + 1)}${unitLabel === "" ? "" : ` ${unitLabel}`} a day`;
  const reach = `reaches ${edgeWithUnit(limit, decimals, unitLabel)}`;
  const day = (instant: number) => dayMonth(instant, setting.zone);
  const parts = [
    rate,
    latest === null
      ? `${reach} on ${day(earliest)} at the earliest`
      : `${reach} between ${day(earliest)} and ${day(latest)}`,
  ];
  const value = number(finding, "value");
  const isHarmful = setting.spec.kind === "number" && setting.spec.harm === "high";
  if (isHarmful && perDay > 0 && value !== null) {
    const days = Math.floor((WATER_CHANGE * value) / perDay);
    if (days >= 1)
      parts.push(
        `changing ${WATER_CHANGE * 100} % for water with none of it buys about ${days} ${days === 1 ? "day" : "days"}`,
      );
  }
  return parts;
}

export function drifting(finding: WordedFinding<"drifting">, setting: Setting): string[] {
  const { decimals, unitLabel } = shape(setting.spec);
  const change = number(finding, "change");
  const days = number(finding, "days");
  if (change !== null && days !== null) {
    const by = withUnit(Math.abs(change), decimals + 1, unitLabel);
    const way = change < 0 ? "falling" : "rising";
    const span = durationText(days * DAY);
    const against = number(finding, "plan") === null ? "" : " against its plan";
    const parts = [`${subject(setting)} ${was(finding)}${way}${against} by ${by} in ${span}`];
    const tests = number(finding, "tests");
    if (tests !== null) parts.push(`${numberText(tests, 0)} bench tests show it`);
    return finding.ended === null ? [...parts, ...aheadOf(finding, setting)] : parts;
  }
  const off = number(finding, "residual");
  const usual = number(finding, "usual");
  if (off === null) return [`${subject(setting)} ${was(finding)}drifting ${when(finding, setting)}`];
  const side = off < 0 ? "below" : "above";
  const by = withUnit(Math.abs(off), decimals, unitLabel);
  const parts = [
    `${subject(setting)} ${was(finding)}${by} ${side} normal for this hour ${when(finding, setting)}`,
  ];
  if (usual !== null) parts.push(`usually ${withUnit(usual, decimals, unitLabel)}`);
  return parts;
}

export function disagreeing(finding: WordedFinding<"disagreeing">, setting: Setting): string[] {
  const difference = sized(finding, "difference", setting);
  const other = text(finding, "other");
  const by = difference === null ? "" : ` by ${difference}`;
  const from = other === null ? " from its twin" : ` from the probe at ${other}`;
  const verb = finding.ended === null ? "differs" : "differed";
  return [`${subject(setting)} ${verb}${by}${from} ${when(finding, setting)}`, "one of the two has drifted"];
}

/** What goes on, where the label of its kind cannot follow "still". */
const STILL: ReadonlyMap<string, string> = new Map<FindingKind, string>([
  ["too fast", "changing too fast"],
  ["stepped", "unsettled after a step"],
  ["wrong state", "in a wrong state"],
  ["light off", "off its light schedule"],
]);

/** Evidence: work (what was logged), from (its beginning), still (the kind of finding that goes on). */
export function overrun(finding: WordedFinding<"overrun">, setting: Setting): string[] {
  const [work, still] = [text(finding, "work"), text(finding, "still")];
  const from = number(finding, "from");
  if (work === null || from === null) return [`${subject(setting)}: overrun ${when(finding, setting)}`];
  const parts = [
    `${work} has run longer than ${durationText(finding.began - from)}, since ${at(setting, from)}`,
  ];
  const what = `${subject(setting)} still ${still === null ? "not right" : (STILL.get(still) ?? still)}`;
  parts.push(finding.ended === null ? what : `${what} until ${at(setting, finding.ended)}`);
  return parts;
}

import { durationText, longestText } from "../time/duration-text.ts";
import { DAY } from "../time/instant.ts";
import { numberText, withUnit } from "../units/number-text.ts";
import { slippedUnit } from "../units/unit-slip.ts";
import { lightOff } from "./wording-of-light.ts";
import { at, number, type Setting, shape, subject, type Told, when } from "./wording-parts.ts";

/**
 * Sentences about the course of a stream and about its probe. Evidence in the quantity's unit. Stepped: from, to, alone (1: one reading only).
 * Of counts: from, to. Noisy: jump, usual. Stuck: value, held (ms). Exposed: value, before. Drifting: residual and usual (against other days), or change and days (a
 * trend; of `tests` bench results). Overrun: work, from, still. Disagreeing:
 * difference, usual, other (a point). Keys that are missing leave their clause out. Other kinds are named with their time.
 */
export function changed(finding: Told, setting: Setting): string[] {
  switch (finding.kind) {
    case "stepped":
      return stepped(finding, setting);
    case "noisy":
      return noisy(finding, setting);
    case "stuck":
      return stuck(finding, setting);
    case "exposed":
      return exposed(finding, setting);
    case "drifting":
      return drifting(finding, setting);
    case "disagreeing":
      return disagreeing(finding, setting);
    case "light off":
      return lightOff(finding, setting);
    case "overrun":
      return overrun(finding, setting);
    default:
      return [`${subject(setting)}: ${finding.kind} ${when(finding, setting)}`];
  }
}

const was = (finding: Told): string => (finding.ended === null ? "" : "was ");

function sized(finding: Told, key: string, setting: Setting, more = 0): string | null {
  const value = number(finding, key);
  const { decimals, unitLabel } = shape(setting.spec);
  return value === null ? null : withUnit(Math.abs(value), decimals + more, unitLabel);
}

function stepped(finding: Told, setting: Setting): string[] {
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
function counted(finding: Told, setting: Setting, from: number | null, to: number | null): string[] {
  const then = `${finding.rule} than the previous count, ${at(setting, finding.began)}`;
  if (from === null || to === null) return [`${subject(setting)}: ${then}`];
  return [`${subject(setting)}: ${numberText(to, 0)}, ${numberText(Math.abs(to - from), 0)} ${then}`];
}

/** What was sent is never converted by guess: the sentence says what it looks like, and people ask the sender. */
function slipped({ spec }: Setting, from: number, to: number): string[] {
  const other = spec.kind === "number" ? slippedUnit(spec, from, to) : null;
  return other === null ? [] : [`as if the sender had switched its unit to or from ${other.label}`];
}

function noisy(finding: Told, setting: Setting): string[] {
  const jump = sized(finding, "jump", setting, 1);
  const usual = sized(finding, "usual", setting, 1);
  const by = jump === null ? "" : ` by ${jump}`;
  const parts = [
    `${subject(setting)} ${was(finding)}jumping${by} between readings ${when(finding, setting)}`,
  ];
  if (usual !== null) parts.push(`usually ${usual}`);
  return parts;
}

function stuck(finding: Told, setting: Setting): string[] {
  const held = number(finding, "held");
  const value = sized(finding, "value", setting);
  const at = value === null ? "" : ` at ${value}`;
  const parts = [`${subject(setting)} ${was(finding)}stuck${at} ${when(finding, setting)}`];
  if (held !== null) parts.push(`usually unchanged for at most ${longestText(held)}`);
  return parts;
}

function exposed(finding: Told, setting: Setting): string[] {
  const { decimals, unitLabel } = shape(setting.spec);
  const value = number(finding, "value");
  const reads = value === null ? "" : ` (${withUnit(value, decimals, unitLabel)})`;
  const verb = finding.ended === null ? "reads" : "was reading";
  const how = finding.rule === "air" ? "as if in air" : "an impossible value";
  const before = number(finding, "before");
  return [
    `${subject(setting)} ${verb} ${how}${reads} ${when(finding, setting)}`,
    ...(before === null || value === null ? [] : slipped(setting, before, value)),
  ];
}

function drifting(finding: Told, setting: Setting): string[] {
  const { decimals, unitLabel } = shape(setting.spec);
  const change = number(finding, "change");
  const days = number(finding, "days");
  if (change !== null && days !== null) {
    const by = withUnit(Math.abs(change), decimals + 1, unitLabel);
    const way = change < 0 ? "falling" : "rising";
    const span = durationText(days * DAY);
    const parts = [`${subject(setting)} ${was(finding)}${way} by ${by} in ${span}`];
    const tests = number(finding, "tests");
    if (tests !== null) parts.push(`${numberText(tests, 0)} bench tests show it`);
    return parts;
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

function disagreeing(finding: Told, setting: Setting): string[] {
  const difference = sized(finding, "difference", setting);
  const other = finding.evidence.other;
  const by = difference === null ? "" : ` by ${difference}`;
  const from = typeof other === "string" ? ` from the probe at ${other}` : " from its twin";
  const verb = finding.ended === null ? "differs" : "differed";
  return [`${subject(setting)} ${verb}${by}${from} ${when(finding, setting)}`, "one of the two has drifted"];
}

/** Evidence: work (what was logged), from (its beginning), still (the kind of finding that goes on). */
function overrun(finding: Told, setting: Setting): string[] {
  const { work, still } = finding.evidence;
  const from = number(finding, "from");
  if (typeof work !== "string" || from === null)
    return [`${subject(setting)}: overrun ${when(finding, setting)}`];
  const parts = [
    `${work} has run longer than ${durationText(finding.began - from)}, since ${at(setting, from)}`,
  ];
  const what = `${subject(setting)} still ${typeof still === "string" ? still : "not right"}`;
  parts.push(finding.ended === null ? what : `${what} until ${at(setting, finding.ended)}`);
  return parts;
}

import { durationText } from "../time/duration-text.ts";
import { labelInSentence } from "../units/label-text.ts";
import { edgeText, edgeWithUnit, numberText, withUnit } from "../units/number-text.ts";
import { type FindingKind, WITHDRAWN, type Withdrawal } from "./finding.ts";
import { disagreeing, drifting, exposed, noisy, overrun, stepped, stuck } from "./wording-of-change.ts";
import { lightOff } from "./wording-of-light.ts";
import { leftBench } from "./wording-of-probes.ts";
import {
  at,
  number,
  type Sentence,
  type Setting,
  shape,
  subject,
  text,
  type WordedFinding,
  when,
} from "./wording-parts.ts";

/** The sentence of each kind of finding; see `Claims` for its evidence, without "found late". */
const SENTENCES: { readonly [K in FindingKind]: Sentence<K> } = {
  "out of band": outOfBand,
  "too fast": tooFast,
  drifting: (finding, setting) =>
    finding.rule === "bench" ? leftBench(finding, setting) : drifting(finding, setting),
  stepped,
  stuck,
  exposed,
  disagreeing,
  noisy,
  silent,
  "wrong state": wrongState,
  "light off": lightOff,
  overrun,
};

/**
 * One sentence about a finding in water words, with numbers, units and site time. Evidence that is missing leaves its clause out, so an old
 * finding still reads.
 */
export function wording<K extends FindingKind>(finding: WordedFinding<K>, setting: Setting): string {
  const parts = SENTENCES[finding.kind](finding, setting);
  const { withdrawn } = finding.evidence;
  if (isWithdrawal(withdrawn)) parts.push(WITHDRAWN[withdrawn]);
  if (finding.late) parts.push("found late");
  return parts.join(", ");
}

const isWithdrawal = (code: string | number | null | undefined): code is Withdrawal =>
  typeof code === "string" && Object.hasOwn(WITHDRAWN, code);

function outOfBand(finding: WordedFinding<"out of band">, setting: Setting): string[] {
  const { decimals, unitLabel } = shape(setting.spec);
  const high = !finding.rule.includes("low");
  const side = high ? "above" : "below";
  const edge = number(finding, "edge");
  const limit = number(finding, "limit");
  const worst = number(finding, "worst") ?? number(finding, "value");
  const over = finding.ended !== null;
  const unknown = over ? null : lastRead(setting);
  const value = over ? null : unknown === null ? (setting.current ?? worst) : (setting.last?.value ?? null);
  const band = edge === null ? "its band" : `its band (${edgeText(edge, decimals)})`;
  const returns = value !== null && edge !== null && (high ? value <= edge : value >= edge);
  const out = `${side} ${returns ? "it" : band} ${when(finding, setting)}`;
  const where = returns ? `back in ${band}, had been ${out}` : `${over ? "was " : ""}${out}`;
  const parts =
    unknown !== null
      ? [`${subject(setting)} ${unknown}`, where]
      : value === null
        ? [`${subject(setting)} ${where}`]
        : [`${subject(setting)} ${withUnit(value, decimals, unitLabel)}`, where];
  if (limit !== null && Math.abs(number(finding, "deviation") ?? 0) >= 1)
    parts.push(pastLimit(edgeText(limit, decimals), over || !isPast(value, limit, high)));
  const differs =
    worst !== null && (value === null || numberText(worst, decimals) !== numberText(value, decimals));
  if (worst !== null && differs) {
    const worstAt = number(finding, "worstAt");
    const time = worstAt === null ? "" : ` at ${at(setting, worstAt)}`;
    parts.push(`${high ? "highest" : "lowest"} ${withUnit(worst, decimals, unitLabel)}${time}`);
  }
  return parts;
}

/** Where no believable reading says what is now: the last one with its age, never the worst as if it were now. Null where one does. */
function lastRead(setting: Setting): string | null {
  const { last, spec } = setting;
  if (last === undefined) return null;
  if (last === null) return "not known now";
  const { decimals, unitLabel } = shape(spec);
  const age = durationText(Math.max(0, setting.now - last.at));
  return `last read ${withUnit(last.value, decimals, unitLabel)} at ${at(setting, last.at)}, ${age} ago`;
}

const pastLimit = (limit: string, over: boolean) =>
  `${over ? "was past" : "past"} its action limit (${limit})`;
const isPast = (value: number | null, limit: number, high: boolean) =>
  value !== null && (high ? value >= limit : value <= limit);

function tooFast(finding: WordedFinding<"too fast">, setting: Setting): string[] {
  const { decimals, unitLabel } = shape(setting.spec);
  const rate = number(finding, "rate");
  const limit = number(finding, "limit");
  const window = number(finding, "window");
  const from = number(finding, "from");
  const to = number(finding, "to");
  const more = decimals + 1;
  const verb = rate === null ? "changing too fast" : rate < 0 ? "falling" : "rising";
  const speed = rate === null ? "" : ` ${withUnit(Math.abs(rate), more, unitLabel)} an hour`;
  const over = window === null ? "" : ` over ${durationText(window)}`;
  const parts = [
    `${subject(setting)} ${finding.ended === null ? "" : "was "}${verb}${speed}${over} ${when(finding, setting)}`,
  ];
  if (from !== null && to !== null)
    parts.push(`from ${numberText(from, decimals)} to ${withUnit(to, decimals, unitLabel)}`);
  if (limit !== null) parts.push(`limit ${edgeWithUnit(Math.abs(limit), more, unitLabel)} an hour`);
  const unknown = finding.ended === null ? lastRead(setting) : null;
  if (unknown !== null) parts.push(unknown);
  return parts;
}

function wrongState(finding: WordedFinding<"wrong state">, setting: Setting): string[] {
  const word = text(finding, "word") ?? finding.rule;
  const verb = finding.ended === null ? "" : "was ";
  return [
    `${setting.spec.label} ${setting.point} ${verb}${word.replaceAll("_", " ")} ${when(finding, setting)}`,
  ];
}

function silent(finding: WordedFinding<"silent">, setting: Setting): string[] {
  const lastAt = number(finding, "lastAt");
  const interval = number(finding, "interval");
  const from = lastAt ?? finding.began;
  const span =
    finding.ended === null
      ? `since ${at(setting, from)}`
      : `from ${at(setting, from)} to ${at(setting, finding.ended)}`;
  const isHeld = finding.evidence.held === "held";
  const parts = [
    `No reading of ${labelInSentence(subject(setting))} ${isHeld ? "with a time that can be believed " : ""}${span}`,
  ];
  if (isHeld) parts.push("what comes is held, because its sender’s clock is wrong");
  if (interval !== null) parts.push(`expected every ${durationText(interval)}`);
  return parts;
}

import { lightSentence } from "../home-water/words.ts";
import { hoursText } from "../time/duration-text.ts";
import { dayMonth } from "../time/wall-time.ts";
import { at, number, type Setting, type WordedFinding, when } from "./wording-parts.ts";

const RULES = ["hours", "phase", "clock"] as const;

/**
 * Sentences about light against its schedule. Dark: from, to (when it should be lit). Hours: off (min), hours, planned. Phase and clock: off (min),
 * dawn, dusk, change (the clock change it began with). Keys that are missing leave their clause out.
 */
export function lightOff(finding: WordedFinding<"light off">, setting: Setting): string[] {
  const kind = RULES.find((each) => each === finding.rule);
  const off = number(finding, "off");
  if (kind === undefined || off === null) return dark(finding, setting);
  const from = dayMonth(finding.began, setting.zone);
  const to = finding.ended === null ? null : dayMonth(finding.ended, setting.zone);
  const isClockChange = number(finding, "change") !== null;
  const parts = [lightSentence({ kind, off, from, to, isClockChange }).replace(/\.$/, "")];
  const [hours, planned] = [number(finding, "hours"), number(finding, "planned")];
  if (kind === "hours" && hours !== null && planned !== null)
    parts.push(`last ${hoursText(hours)}, planned ${hoursText(planned)}`);
  const [dawn, dusk] = [number(finding, "dawn"), number(finding, "dusk")];
  if (kind !== "hours" && dawn !== null && dusk !== null)
    parts.push(`last lit from ${at(setting, dawn)} to ${at(setting, dusk)}`);
  return parts;
}

function dark(finding: WordedFinding<"light off">, setting: Setting): string[] {
  const [from, to] = [number(finding, "from"), number(finding, "to")];
  const parts = [`Light ${finding.ended === null ? "off" : "was off"} ${when(finding, setting)}`];
  if (from !== null && to !== null) parts.push(`planned on from ${at(setting, from)} to ${at(setting, to)}`);
  return parts;
}

import { numberText, withUnit } from "../units/number-text.ts";
import { number, type Setting, shape, subject, type WordedFinding, when } from "./wording-parts.ts";

/**
 * A probe that has left its bench tests. Evidence: apart (mean of probe minus bench), percent (1 where that is in percent), value and bench
 * of the last pair, tests. Keys that are missing leave their clause out.
 */
export function leftBench(finding: WordedFinding<"drifting">, setting: Setting): string[] {
  const { decimals, unitLabel } = shape(setting.spec);
  const [apart, tests] = [number(finding, "apart"), number(finding, "tests")];
  const [value, bench] = [number(finding, "value"), number(finding, "bench")];
  const isPercent = number(finding, "percent") === 1;
  const verb = finding.ended === null ? "reads" : "was reading";
  const size = apart === null ? "" : `${withUnit(Math.abs(apart), decimals, isPercent ? "%" : unitLabel)} `;
  const side = apart === null ? "away from" : apart < 0 ? "below" : "above";
  const parts = [
    `${subject(setting)} probe ${verb} ${size}${side} the bench tests ${when(finding, setting)}`,
  ];
  if (value !== null && bench !== null)
    parts.push(`last ${numberText(value, decimals)} against ${withUnit(bench, decimals, unitLabel)}`);
  if (tests !== null && tests > 1) parts.push(`mean of ${tests} tests, newest weighted most`);
  return parts;
}

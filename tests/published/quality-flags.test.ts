import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { emptyCourse, takeReading, takeRest } from "#core/drift/course.ts";
import { courseLimitsFor } from "#core/drift/course-limits.ts";
import { FLAG, type Flag } from "#core/quality/flag.ts";
import { grossRange } from "#core/quality/gross-range.ts";
import { QUANTITIES } from "#core/units/index.ts";

// Source: output of the reference library ioos_qc at commit 9c1853a40c8b, see the table; rules of IOOS QARTOD (2016).
interface Case {
  readonly name: string;
  readonly test: string;
  readonly parameters: Readonly<Record<string, never>>;
  readonly seconds: readonly number[] | null;
  readonly values: readonly (number | null)[] | null;
  readonly flags: readonly Flag[];
}
const { cases } = JSON.parse(
  readFileSync(new URL("../../fixtures/check-values/quality-flags.json", import.meta.url), "utf8"),
) as { cases: readonly Case[] };

/** Gross range as the registry applies it, with the spans of the case. */
function gross(one: Case): Flag[] {
  const span = (key: string) => {
    const [low, high] = (one.parameters[key] ?? [-Infinity, Infinity]) as unknown as [number, number];
    return [Math.min(low, high), Math.max(low, high)] as const;
  };
  const [fail, suspect] = [span("fail_span"), span("suspect_span")];
  return (one.values ?? []).map((value) => {
    if (value === null) return 9;
    const spec = { kind: "number", sensor: fail, plausible: suspect } as const;
    return grossRange(value, { ...QUANTITIES.temperature, ...spec }).flag;
  });
}

/**
 * The flat line test as the evaluator applies it: the same to the last digit for so long is suspect and set aside; nothing fails for it.
 * What holds for a quantity is hours; here it is the suspect threshold of the case.
 */
function flatLine(one: Case): Flag[] {
  const course = emptyCourse();
  const limits = {
    ...(courseLimitsFor("temperature") as NonNullable<ReturnType<typeof courseLimitsFor>>),
    flatMs: Number(one.parameters.suspect_threshold_s) * 1_000,
  };
  let before: number | null = null;
  return (one.values ?? []).map((value, i) => {
    if (value === null) return FLAG.missing;
    const at = (one.seconds?.[i] ?? 0) * 1_000;
    takeReading(course, at, value, limits);
    const { held, most } = takeRest(course, at, value === before, limits);
    before = value;
    return held >= most ? FLAG.suspect : FLAG.pass;
  });
}
/** The reference has a second, longer threshold for a stuck value; here both are suspect. */
const atMostSuspect = (flags: readonly Flag[]) =>
  flags.map((flag) => (flag === FLAG.fail ? FLAG.suspect : flag));

// QARTOD tests that Homewater does not implement as flags, and what it does instead.
const NO_FLAG: Readonly<Record<string, string>> = {
  spike: "a reading far from its course stays evidence and is said to be so as a finding",
  "rate of change": "a robust slope over a window is held against limits, as a finding about the water",
  "attenuated signal": "not implemented",
  "time gap": "a stream that falls silent is a finding; the reading after a gap is not flagged",
  "roll-up": "flags of several tests of one reading are not combined by a rule of QARTOD",
};
const NOT_SO: Readonly<Record<string, string>> = {
  "fl-02": "a tolerance of nought switches the reference's test off; here there is no tolerance to set",
  "fl-05": "values that move within a tolerance are not stuck here: only the same to the last digit is",
  "fl-06": "fewer than three values pass in the reference; here the hours count and not the values",
  "fl-07": "values that creep within a tolerance are not stuck here",
};
const casesOf = (name: string) =>
  cases
    .filter((one) => one.test === name && NOT_SO[one.name] === undefined)
    .map((one) => [one.name, one] as const);

test.each(casesOf("gross range"))("%s gives the reference's flags", (_, one) => {
  expect(gross(one)).toEqual(one.flags);
});

test.each(casesOf("flat line"))("%s is suspect where the reference says suspect or fail", (_, one) => {
  expect(flatLine(one)).toEqual(atMostSuspect(one.flags));
});

test("every test of the table is either held here or said not to be implemented", () => {
  expect([...new Set(cases.map((one) => one.test))].sort()).toEqual(
    ["gross range", "flat line", ...Object.keys(NO_FLAG)].sort(),
  );
});

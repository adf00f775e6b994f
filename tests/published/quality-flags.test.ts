import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { Flag } from "#core/quality/flag.ts";
import { grossRange } from "#core/quality/gross-range.ts";
import {
  attenuationTest,
  flatLineTest,
  gapTest,
  rateTest,
  rollUpFlags,
  type Series,
  spikeTest,
} from "#core/quality/series-tests.ts";

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

const numberOf = (one: Case, key: string): number | null => one.parameters[key] ?? null;
const milliseconds = (one: Case, key: string): number | null => {
  const seconds = numberOf(one, key);
  return seconds === null ? null : seconds * 1000;
};

function seriesOf(one: Case): Series {
  const values = one.values ?? [];
  return { t: (one.seconds ?? values.map((_, i) => i)).map((second) => second * 1000), values };
}

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

const thresholds = (one: Case) => ({
  suspect: numberOf(one, "suspect_threshold"),
  fail: numberOf(one, "fail_threshold"),
});
const TESTS: Readonly<Record<string, (one: Case) => readonly Flag[]>> = {
  "gross range": gross,
  spike: (one) =>
    spikeTest(
      seriesOf(one),
      thresholds(one),
      one.parameters.method === "average" ? "average" : "differential",
    ),
  "rate of change": (one) =>
    rateTest(seriesOf(one), {
      suspect: numberOf(one, "threshold_per_s"),
      fail: numberOf(one, "fail_threshold_per_s"),
    }),
  "flat line": (one) =>
    flatLineTest(
      seriesOf(one),
      { suspect: milliseconds(one, "suspect_threshold_s"), fail: milliseconds(one, "fail_threshold_s") },
      numberOf(one, "tolerance") ?? 0,
    ),
  "attenuated signal": (one) =>
    attenuationTest(seriesOf(one), thresholds(one), {
      measure: one.parameters.check_type === "std" ? "deviation" : "range",
      span: milliseconds(one, "test_period_s"),
      atLeast: numberOf(one, "min_obs") ?? 1,
    }),
  "time gap": (one) => gapTest(seriesOf(one).t, (numberOf(one, "fail_span_h") ?? 0) * 3_600_000),
  "roll-up": (one) => {
    const vectors = one.parameters.vectors as unknown as Flag[][];
    return (vectors[0] ?? []).map((_, i) => rollUpFlags(vectors.map((flags) => flags[i] as Flag)));
  },
};

test.each(cases.map((one) => [one.name, one] as const))("%s gives the reference's flags", (_, one) => {
  const flags = TESTS[one.test]?.(one);
  expect(flags).toEqual(one.flags);
});

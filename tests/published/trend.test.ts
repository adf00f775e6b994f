import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { mannKendall, theilSen } from "#core/drift/trend.ts";
import { median, medianDeviation, quantile, robustScale } from "#core/statistics/robust.ts";

// Sources: Mann 1945, Kendall 1975, Gilbert 1987; scipy.stats.theilslopes 1.10.1; numpy 1.24. See the table.
interface Case {
  readonly name: string;
  readonly method: "trend" | "robust";
  readonly input: { readonly t: number[]; readonly y: (number | null)[]; readonly x: number[] };
  readonly parameters: Readonly<Record<string, number>>;
  readonly expected: Readonly<Record<string, number>>;
}
const { cases } = JSON.parse(
  readFileSync(new URL("../../fixtures/check-values/trend.json", import.meta.url), "utf8"),
) as { cases: readonly Case[] };
const named = (method: Case["method"]) =>
  cases.filter((one) => one.method === method).map((one) => [one.name, one] as const);

test.each(named("trend"))("%s: Mann-Kendall and Theil-Sen", (_, { input, expected }) => {
  const held = input.y.flatMap((y, i) => (y === null ? [] : [[input.t[i] as number, y] as const]));
  const [t, y] = [held.map(([at]) => at), held.map(([, value]) => value)];
  const found = mannKendall(y);
  expect(found.n).toBe(expected.n);
  expect(found.s).toBe(expected.S);
  expect(found.variance).toBeCloseTo(expected.varS ?? Number.NaN, 5);
  expect(found.z).toBeCloseTo(expected.Z ?? Number.NaN, 5);
  const p = expected.p_two_sided ?? Number.NaN;
  expect(Math.abs(found.p / p - 1)).toBeLessThan(1e-5);
  for (const confidence of [95, 90]) {
    const slope = theilSen(t, y, confidence / 100);
    expect(slope?.slope).toBeCloseTo(expected.theil_sen_slope ?? Number.NaN, 6);
    expect(slope?.intercept).toBeCloseTo(expected.theil_sen_intercept ?? Number.NaN, 5);
    expect(slope?.low).toBeCloseTo(expected[`slope_lo${confidence}`] ?? Number.NaN, 6);
    expect(slope?.high).toBeCloseTo(expected[`slope_hi${confidence}`] ?? Number.NaN, 6);
  }
});

test.each(named("robust"))("%s: median, median deviation, quartiles", (_, { input, expected }) => {
  const { x } = input;
  expect(median(x)).toBeCloseTo(expected.median ?? Number.NaN, 9);
  expect(medianDeviation(x)).toBeCloseTo(expected.mad ?? Number.NaN, 9);
  expect(robustScale(x, 0)).toBeCloseTo(expected.robust_sd ?? Number.NaN, 5);
  expect(quantile(x, 0.25)).toBeCloseTo(expected.q25_linear ?? Number.NaN, 9);
  expect(quantile(x, 0.75)).toBeCloseTo(expected.q75_linear ?? Number.NaN, 9);
});

import { describe, expect, test } from "vitest";
import { clippedAlpha, halfWidth, nextAlpha } from "#core/forecast/conformal.ts";
import { forecast, timeToLimit } from "#core/forecast/forecast.ts";
import { outlookOf, provenSlope } from "#core/forecast/path.ts";
import { workedCase } from "../probes/worked-cases.ts";

const expectedAt = (hours: readonly number[], ahead: number) => outlookOf(hours)?.(ahead) ?? null;

/** A generator of our own, so that the series are the same each time (mulberry32). */
function normals(seed: number): () => number {
  let a = seed;
  const random = () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  return () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}
/** Day curve, slow wandering and noise, as tanks and rivers have them. */
function water(count: number, seed: number, perDay = 0): number[] {
  const normal = normals(seed);
  let wander = 0;
  return Array.from({ length: count }, (_, hour) => {
    wander = 0.995 * wander + 0.02 * normal();
    return 25 + 0.3 * Math.sin((2 * Math.PI * hour) / 24) + wander + 0.02 * normal() + (perDay * hour) / 24;
  });
}

// Source: Lei and others 2018, JASA 113:1094.
test.each(["sc-01", "sc-02"])("split conformal half-width holds the worked case %s", (name) => {
  const known = workedCase(name);
  expect(halfWidth(known.numbers("abs_residuals"), known.number("alpha"))).toBe(known.expected("half_width"));
});
// Source: Gibbs & Candes 2021.
test("the adaptive step holds the worked case", () => {
  const known = workedCase("aci-01");
  let alpha = known.number("alpha0");
  const after = known.numbers("covered").map((covered) => {
    alpha = nextAlpha(alpha, known.number("alpha"), known.number("gamma"), covered === 1);
    return alpha;
  });
  for (const [i, value] of after.entries())
    expect(value).toBeCloseTo(known.expectedList("alpha_after")[i] as number, 9);
  expect(clippedAlpha(-0.02)).toBe(0.002);
  expect(clippedAlpha(0.9)).toBe(0.5);
});

describe.each([6, 24, 72])("intervals %d h ahead", (ahead) => {
  test("hold 85 to 95 % of what comes, over more than two hundred origins, few of them without an end", () => {
    let [held, origins, unbounded] = [0, 0, 0];
    for (const seed of [1, 2, 3]) {
      const row = forecast(water(1_500, seed), ahead);
      held += (row.coverage ?? 0) * row.origins;
      origins += row.origins;
      unbounded += row.unbounded;
      expect(row.isStated).toBe((row.coverage ?? 0) >= 0.85 && (row.coverage ?? 0) <= 0.95);
    }
    expect(origins).toBeGreaterThanOrEqual(200);
    expect(held / origins).toBeGreaterThanOrEqual(0.85);
    expect(held / origins).toBeLessThanOrEqual(0.95);
    expect(unbounded / (origins + unbounded)).toBeLessThanOrEqual(0.25);
  });
});

describe("what is expected", () => {
  test("follows the hour of the day", () => {
    const hours = Array.from({ length: 10 * 24 }, (_, hour) => 25 + Math.sin((2 * Math.PI * hour) / 24));
    for (const ahead of [3, 6, 12, 24, 30])
      expect(expectedAt(hours, ahead)).toBeCloseTo(
        25 + Math.sin((2 * Math.PI * (hours.length - 1 + ahead)) / 24),
        1,
      );
  });
  test("goes on only with a trend that is proven, and damped", () => {
    const flat = water(10 * 24, 5);
    expect(provenSlope(flat.map((value, hour) => value - (flat[hour] as number) + 25))).toBe(0);
    const rising = Array.from({ length: 10 * 24 }, (_, hour) => 25 + (0.2 * hour) / 24);
    expect(provenSlope(rising)).toBeCloseTo(0.2, 9);
    const now = rising.at(-1) as number;
    const inThree = expectedAt(rising, 72) as number;
    expect(inThree).toBeGreaterThan(now);
    expect(inThree).toBeLessThan(now + 0.6);
  });
  test("needs two days of values and some in the last", () => {
    expect(expectedAt([25, 25, 25], 6)).toBeNull();
    expect(
      expectedAt([...water(100, 1).slice(0, 76), ...Array.from({ length: 24 }, () => Number.NaN)], 6),
    ).toBeNull();
  });
});

describe("time to a limit", () => {
  test("is an interval that begins before it ends, and not within seven days where nothing goes there", () => {
    const rising = water(24 * 24, 9, 0.15);
    const limit = (rising.at(-1) as number) + 0.6;
    const crossing = timeToLimit(rising, limit, 1);
    expect(crossing?.earliest).not.toBeNull();
    if (crossing?.latest != null) expect(crossing.latest).toBeGreaterThanOrEqual(crossing.earliest ?? 0);
    expect(timeToLimit(water(24 * 24, 9), 60, 1)).toMatchObject({ earliest: null, latest: null });
    expect(timeToLimit([25], 26, 1)).toBeNull();
  });
});

import { describe, expect, test } from "vitest";
import { agreement, deming, isSlopeTold, type Pair } from "#core/probes/agreement.ts";
import { student975 } from "#core/probes/student.ts";
import { workedCase } from "./worked-cases.ts";

// Source: Bland & Altman 1986, Lancet i:307.
test("bias, limits of agreement and the interval of the bias hold the worked case", () => {
  const known = workedCase("ba-01");
  const bench = known.numbers("bench");
  const pairs = known.numbers("probe").map((probe, i): Pair => ({ probe, bench: bench[i] as number }));
  const found = agreement(pairs);
  expect(found?.n).toBe(known.expected("n"));
  expect(found?.bias).toBeCloseTo(known.expected("bias"), 6);
  expect(found?.sd).toBeCloseTo(known.expected("sd"), 6);
  expect(found?.low).toBeCloseTo(known.expected("loa_low"), 5);
  expect(found?.high).toBeCloseTo(known.expected("loa_high"), 5);
  expect(found?.biasLow).toBeCloseTo(known.expected("bias_ci95_low"), 5);
  expect(found?.biasHigh).toBeCloseTo(known.expected("bias_ci95_high"), 5);
});

// Source: Cornbleet & Gochman 1979, Clinical Chemistry 25:432.
test.each(["dm-01", "dm-02", "dm-03"])("Deming regression holds the worked case %s", (name) => {
  const known = workedCase(name);
  const y = known.numbers("y");
  const pairs = known.numbers("x").map((bench, i): Pair => ({ bench, probe: y[i] as number }));
  const found = deming(pairs, known.number("delta"));
  expect(found?.slope).toBeCloseTo(known.expected("slope"), 7);
  expect(found?.intercept).toBeCloseTo(known.expected("intercept"), 7);
  expect(isSlopeTold(pairs)).toBe(true);
});

// Source: tables of Student's t, e.g. NIST/SEMATECH e-Handbook 1.3.6.7.2.
test.each([
  [1, 12.706],
  [2, 4.303],
  [3, 3.182],
  [4, 2.776],
  [5, 2.571],
  [9, 2.262],
  [19, 2.093],
  [30, 2.042],
  [100, 1.984],
])("the quantile of t with %d degrees of freedom is the printed one", (freedom, printed) => {
  expect(student975(freedom)).toBeCloseTo(printed, 3);
});
test("no quantile without a degree of freedom", () => {
  expect(student975(0)).toBeNaN();
});

describe("a slope is told only where the bench ranged widely", () => {
  const steady = Array.from(
    { length: 20 },
    (_, i): Pair => ({ bench: 8 + (i % 3) * 0.02, probe: 8.1 + (i % 2) * 0.05 }),
  );
  test("in a steady tank it is not", () => {
    expect(isSlopeTold(steady)).toBe(false);
  });
  test("of few pairs it is not", () => {
    expect(
      isSlopeTold([
        { bench: 4, probe: 4 },
        { bench: 7, probe: 7.1 },
        { bench: 10, probe: 10 },
      ]),
    ).toBe(false);
  });
  test("one pair has no agreement, and pairs that never move no slope", () => {
    expect(agreement(steady.slice(0, 1))).toBeNull();
    expect(
      deming(
        [
          { bench: 1, probe: 1 },
          { bench: 1, probe: 1 },
          { bench: 1, probe: 1 },
        ],
        1,
      ),
    ).toBeNull();
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { carbonateColumns } from "#core/chemistry/carbonate-columns.ts";
import { COLUMN_STATUSES, type ColumnResult } from "#core/chemistry/column-status.ts";
import { ammoniaColumn, salinityColumn, totalPhColumn } from "#core/chemistry/columns.ts";
import {
  type Computed,
  carbonateFromPhAlkalinity,
  convertPh,
  practicalSalinity,
  unionisedAmmonia,
} from "#core/chemistry/index.ts";
import { dbar, degC, meqPerL, mgPerLAsN, msPerCm, phUnits, psu } from "#core/units/index.ts";

/** A number of a range, sometimes one beyond it or none at all. */
const number = (min: number, max: number) =>
  fc.oneof(
    { weight: 12, arbitrary: fc.double({ min, max, noNaN: true }) },
    { weight: 1, arbitrary: fc.constantFrom(0, min, max, -1, 1e7, Number.NaN, Number.POSITIVE_INFINITY) },
  );
const tables = (...columns: readonly fc.Arbitrary<number>[]) =>
  fc
    .array(fc.tuple(...columns), { maxLength: 40 })
    .map((rows) => columns.map((_, column) => Float64Array.from(rows, (row) => row[column] as number)));
const celsius = number(-8, 105);
const salinity = number(-1, 130);
const ph = number(0, 14);
const WATERS = ["fresh", "brackish", "marine"] as const;

/** A row holds what the single form gives: its value to the last bit, its status, NaN where it has none. */
function expectRow(found: ColumnResult, i: number, single: Computed<number>) {
  expect(found.value[i]).toBe(single.value ?? Number.NaN);
  expect(COLUMN_STATUSES[found.status[i] as number]).toBe(single.status);
}

describe("columns hold what the single forms give, row by row, statuses too", () => {
  it("of salinity", () => {
    fc.assert(
      fc.property(tables(number(0, 250), celsius, number(-5, 11_000)), ([c, t, p]) => {
        const columns = [c, t, p] as [Float64Array, Float64Array, Float64Array];
        const found = salinityColumn(...columns);
        for (let i = 0; i < found.value.length; i++) {
          const [one, two, three] = columns.map((column) => column[i] as number) as [number, number, number];
          expectRow(found, i, practicalSalinity(msPerCm(one), degC(two), dbar(three)));
        }
      }),
    );
  });

  it.each(WATERS)("of un-ionised ammonia in %s water", (water) => {
    const phScale = water === "fresh" ? "nbs" : "total";
    fc.assert(
      fc.property(tables(number(0, 5), ph, celsius, salinity), (columns) => {
        const [tan, acid, t, s] = columns as [Float64Array, Float64Array, Float64Array, Float64Array];
        const found = ammoniaColumn(water, tan, acid, t, s);
        for (let i = 0; i < tan.length; i++) {
          const single = unionisedAmmonia({
            tan: mgPerLAsN(tan[i] as number),
            ph: phUnits(acid[i] as number),
            phScale,
            t: degC(t[i] as number),
            s: psu(s[i] as number),
            water,
          });
          expectRow(found, i, single);
        }
      }),
    );
  });

  it("of pH on the total scale", () => {
    fc.assert(
      fc.property(tables(ph, celsius, salinity), (columns) => {
        const [nbs, t, s] = columns as [Float64Array, Float64Array, Float64Array];
        const found = totalPhColumn(nbs, t, s);
        for (let i = 0; i < nbs.length; i++) {
          const [acid, warm, salt] = [nbs[i] as number, t[i] as number, s[i] as number];
          expectRow(found, i, convertPh(phUnits(acid), "nbs", "total", psu(salt), degC(warm)));
        }
      }),
    );
  });

  it.each(WATERS)("of the carbonate system in %s water", (water) => {
    fc.assert(
      fc.property(tables(ph, number(-1, 8), celsius, salinity), (columns) => {
        const [acid, alkalinity, t, s] = columns as [Float64Array, Float64Array, Float64Array, Float64Array];
        const found = carbonateColumns(water, acid, alkalinity, t, s);
        for (let i = 0; i < acid.length; i++) {
          const { value, status } = carbonateFromPhAlkalinity({
            ph: phUnits(acid[i] as number),
            phScale: "total",
            alkalinity: meqPerL(alkalinity[i] as number),
            t: degC(t[i] as number),
            s: psu(s[i] as number),
            water,
          });
          expect(COLUMN_STATUSES[found.status[i] as number]).toBe(status);
          expect(found.carbon[i]).toBe(value?.dissolvedInorganicCarbon ?? Number.NaN);
          expect(found.pco2[i]).toBe(value?.pco2 ?? Number.NaN);
          expect(found.calcite[i]).toBe(value?.calciteSaturation ?? Number.NaN);
          expect(found.aragonite[i]).toBe(value?.aragoniteSaturation ?? Number.NaN);
        }
      }),
    );
  });
});

describe("rows at the edges of a scale, none of them odd", () => {
  it("salinity: 42 is in the practical scale and what is salter is not, 0 and a residue of rounding are 0", () => {
    // 47.0 to 53.1 mS/cm at 15 °C lie on both sides of S 42 (PSS-78).
    const c = Float64Array.of(42.914, 49, 50, 51, 55, 0, 1e-9, 42.914, -1, 42.914);
    const t = new Float64Array(c.length).fill(15);
    const p = new Float64Array(c.length);
    const found = salinityColumn(c, t, p);
    const words = Array.from(found.status, (code) => COLUMN_STATUSES[code]);
    const single = Array.from(c, (each) => practicalSalinity(msPerCm(each), degC(15)));
    expect(words).toEqual(single.map(({ status }) => status));
    expect(Array.from(found.value)).toEqual(single.map(({ value }) => value ?? Number.NaN));
    expect(words.filter((word) => word === "extrapolated").length).toBeGreaterThan(0);
    expect([words[8], words[9]]).toEqual(["invalid", "ok"]);
    expect(found.value[5]).toBe(0);
  });

  it("ammonia: fresh water is judged by the equation of fresh water, on its scale", () => {
    const [tan, acid, t, s] = [
      [1, 1, 1],
      [8, 8, 5.9],
      [20, 20, 20],
      [0.5, 1.5, 0.5],
    ].map((row) => Float64Array.from(row)) as [Float64Array, Float64Array, Float64Array, Float64Array];
    const statusOf = (water: (typeof WATERS)[number]) =>
      Array.from(ammoniaColumn(water, tan, acid, t, s).status, (code) => COLUMN_STATUSES[code]);
    // Emerson et al. 1975: fresh water, pH 6 to 10.
    expect(statusOf("fresh")).toEqual(["ok", "extrapolated", "extrapolated"]);
    // Clegg & Whitfield 1995: S 0 to 40.
    expect(statusOf("marine")).toEqual(["ok", "ok", "ok"]);
    // -1 °C is in range on the total scale, and would not be on NBS (range of that step 0 to 40 °C).
    const cold = ammoniaColumn("marine", tan, acid, Float64Array.of(-1, -1, -1), Float64Array.of(33, 33, 33));
    expect(Array.from(cold.status)).toEqual([0, 0, 0]);
  });
});

/** Longer than several of the blocks in which columns are worked on, and no multiple of one. */
const ROWS = 2_500;
const ramp = (from: number, to: number) =>
  Float64Array.from({ length: ROWS }, (_, i) => from + ((to - from) * i) / (ROWS - 1));

describe("a long table", () => {
  it("gives each row what it has in a table of its own", () => {
    const [c, t, p, s] = [ramp(0, 60), ramp(33, 2), ramp(0, 20), ramp(39, 20)];
    const [acid, alkalinity] = [ramp(7.4, 8.5), ramp(4, 1.5)];
    const salt = salinityColumn(c, t, p);
    const carbonates = carbonateColumns("marine", acid, alkalinity, t, s);
    for (const i of [0, 255, 256, 1023, 1024, 2048, ROWS - 1]) {
      const one = (column: Float64Array) => column.slice(i, i + 1);
      expect(salt.value[i]).toBe(salinityColumn(one(c), one(t), one(p)).value[0]);
      const alone = carbonateColumns("marine", one(acid), one(alkalinity), one(t), one(s));
      expect(carbonates.pco2[i]).toBe(alone.pco2[0]);
      expect(carbonates.aragonite[i]).toBe(alone.aragonite[0]);
    }
    // S 35 by definition of PSS-78 (UNESCO 44).
    const standard = salinityColumn(Float64Array.of(42.914), Float64Array.of(14.996401), Float64Array.of(0));
    expect(standard.value[0]).toBeCloseTo(35, 4);
  });

  it("goes into columns of an earlier one, over every value and status in them", () => {
    const good = salinityColumn(ramp(10, 60), ramp(33, 2), ramp(0, 20));
    const bad = salinityColumn(ramp(-60, -10), ramp(33, 2), ramp(0, 20));
    const again = salinityColumn(ramp(10, 60), ramp(33, 2), ramp(0, 20), bad);
    expect(again.value).toBe(bad.value);
    expect(again).toEqual(good);
    const ammonia = ammoniaColumn("marine", ramp(0, 1), ramp(7, 9), ramp(2, 33), ramp(30, 38));
    expect(ammoniaColumn("marine", ramp(0, 1), ramp(7, 9), ramp(2, 33), ramp(30, 38), again).value).toEqual(
      ammonia.value,
    );
    expect(totalPhColumn(ramp(7, 9), ramp(2, 33), ramp(30, 38), again).value).toBe(bad.value);
  });
});

describe("columns of different lengths", () => {
  const one = new Float64Array(1);
  const two = new Float64Array(2);

  it("are refused with both lengths, and empty ones are taken", () => {
    expect(() => salinityColumn(one, two, one)).toThrow(RangeError);
    expect(() => totalPhColumn(one, one, two)).toThrow(/1 and 2 rows/);
    expect(() => carbonateColumns("marine", one, one, two, one)).toThrow(/1 and 2 rows/);
    expect(salinityColumn(new Float64Array(), new Float64Array(), new Float64Array()).value).toHaveLength(0);
  });

  it("are refused for the result as well", () => {
    const tooLong = { value: two, status: new Uint8Array(2) };
    expect(() => salinityColumn(one, one, one, tooLong)).toThrow(/1 rows into 2 values and 2 statuses/);
    const mixed = { value: one, status: new Uint8Array(2) };
    expect(() => salinityColumn(one, one, one, mixed)).toThrow(RangeError);
  });
});

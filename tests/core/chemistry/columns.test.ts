import { describe, expect, it } from "vitest";
import {
  ammoniaColumn,
  carbonateColumns,
  salinityColumn,
  totalPhColumn,
} from "../../../lib/core/chemistry/columns.ts";
import {
  carbonateFromPhAlkalinity,
  convertPh,
  practicalSalinity,
  unionisedAmmonia,
} from "../../../lib/core/chemistry/index.ts";
import { dbar, degC, meqPerL, mgPerLAsN, msPerCm, phUnits, psu } from "../../../lib/core/units/index.ts";

const ROWS = 200;
const spread = (from: number, to: number, turns = 1) =>
  Float64Array.from({ length: ROWS }, (_, i) => from + (to - from) * ((i * turns) % ROWS) * (1 / (ROWS - 1)));
const columns = {
  c: spread(0, 60),
  t: spread(2, 33, 7),
  p: spread(0, 20, 3),
  s: spread(20, 39, 11),
  ph: spread(7.4, 8.5, 13),
  alkalinity: spread(1.5, 4, 17),
  tan: spread(0, 2, 19),
};
const at = (column: Float64Array, i: number) => column[i] as number;

describe("columns hold what the single forms give, row by row", () => {
  it("of salinity", () => {
    const found = salinityColumn(columns.c, columns.t, columns.p);
    for (let i = 0; i < ROWS; i++)
      expect(found[i]).toBe(
        practicalSalinity(msPerCm(at(columns.c, i)), degC(at(columns.t, i)), dbar(at(columns.p, i))).value,
      );
    expect(found[0]).toBe(0);
  });

  it.each(["fresh", "brackish", "marine"] as const)("of un-ionised ammonia in %s water", (water) => {
    const { tan, ph, t, s } = columns;
    const found = ammoniaColumn(water, tan, ph, t, s);
    const phScale = water === "fresh" ? "nbs" : "total";
    for (let i = 0; i < ROWS; i++)
      expect(found[i]).toBe(
        unionisedAmmonia({
          tan: mgPerLAsN(at(tan, i)),
          ph: phUnits(at(ph, i)),
          phScale,
          t: degC(at(t, i)),
          s: psu(at(s, i)),
          water,
        }).value,
      );
  });

  it("of pH on the total scale", () => {
    const { ph, t, s } = columns;
    const found = totalPhColumn(ph, t, s);
    for (let i = 0; i < ROWS; i++)
      expect(found[i]).toBe(
        convertPh(phUnits(at(ph, i)), "nbs", "total", psu(at(s, i)), degC(at(t, i))).value,
      );
  });

  it.each(["fresh", "brackish", "marine"] as const)("of the carbonate system in %s water", (water) => {
    const { ph, alkalinity, t, s } = columns;
    const found = carbonateColumns(water, ph, alkalinity, t, s);
    for (let i = 0; i < ROWS; i++) {
      const { value } = carbonateFromPhAlkalinity({
        ph: phUnits(at(ph, i)),
        phScale: "total",
        alkalinity: meqPerL(at(alkalinity, i)),
        t: degC(at(t, i)),
        s: psu(at(s, i)),
        water,
      });
      expect(found.carbon[i]).toBe(value?.dissolvedInorganicCarbon);
      expect(found.pco2[i]).toBe(value?.pco2);
      expect(found.calcite[i]).toBe(value?.calciteSaturation ?? Number.NaN);
      expect(found.aragonite[i]).toBe(value?.aragoniteSaturation ?? Number.NaN);
    }
  });
});

describe("columns where there is no number", () => {
  const one = (value: number) => Float64Array.of(value);

  it("give NaN and leave the other rows as they are", () => {
    const c = Float64Array.of(-1, Number.NaN, 42.914);
    const t = Float64Array.of(15, 15, 14.996401);
    const found = salinityColumn(c, t, new Float64Array(3));
    expect([...found.slice(0, 2)]).toEqual([Number.NaN, Number.NaN]);
    // S 35 by definition of PSS-78 (UNESCO 44).
    expect(found[2]).toBeCloseTo(35, 4);
    expect(ammoniaColumn("marine", one(-1), one(8), one(25), one(35))[0]).toBeNaN();
    expect(carbonateColumns("marine", one(11), one(0.1), one(25), one(35)).pco2[0]).toBeNaN();
  });

  it("refuse columns of different lengths, and take empty ones", () => {
    const two = new Float64Array(2);
    expect(() => salinityColumn(one(1), two, one(0))).toThrow(RangeError);
    expect(() => totalPhColumn(one(8), one(25), two)).toThrow(/1 and 2 rows/);
    expect(salinityColumn(new Float64Array(), new Float64Array(), new Float64Array())).toHaveLength(0);
  });
});

import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { cusumStep } from "#core/drift/control-chart.ts";
import { cusumLimit, cusumOneSidedRunLength, cusumRunLength } from "../core/drift/cusum-run-length.ts";

// Sources stand beside each row of the table: Lucas & Crosier 1982, Vance 1986 and others.
type Cell = string | number | null;
type Table = { readonly columns: readonly string[]; readonly rows: readonly (readonly Cell[])[] };
const tables = JSON.parse(
  readFileSync(new URL("../../fixtures/check-values/control-charts.json", import.meta.url), "utf8"),
) as Readonly<Record<"runLengths" | "limits" | "worked", Table>>;

const rowsOf = (name: keyof typeof tables) =>
  tables[name].rows.map((row) => Object.fromEntries(tables[name].columns.map((c, i) => [c, row[i] ?? null])));
const number = (row: Record<string, Cell>, key: string): number => Number(row[key] ?? 0);

const RUN_LENGTH: Readonly<
  Record<string, (w: number, limit: number, shift: number, head: number) => number>
> = {
  cusum: cusumRunLength,
  "cusum one-sided": cusumOneSidedRunLength,
};

test("run lengths under every shift of the tables are met within 3 %", () => {
  for (const row of rowsOf("runLengths")) {
    const ours = RUN_LENGTH[String(row.chart)]?.(
      number(row, "weight"),
      number(row, "limit"),
      number(row, "shift"),
      number(row, "headStart"),
    );
    const expected = row.computed === null ? number(row, "published") : number(row, "computed");
    expect(Math.abs((ours ?? 0) / expected - 1), JSON.stringify({ ...row, ours })).toBeLessThan(0.03);
  }
});

test("limits designed for a wanted run length are the reference's", () => {
  for (const row of rowsOf("limits")) {
    const ours = cusumLimit(number(row, "weight"), number(row, "runLength"));
    expect(Math.abs(ours / number(row, "limit") - 1), JSON.stringify({ ...row, ours })).toBeLessThan(0.01);
  }
}, 60_000);

test("the worked series of the handbook come out step by step", () => {
  const rows = rowsOf("worked");
  // NIST/SEMATECH e-Handbook 6.3.2.3: target 325, k 0.3175 in the unit of the values.
  let sums = { high: 0, low: 0 };
  const high = rows.filter((each) => each.chart === "CUSUM S_hi");
  const low = rows.filter((each) => each.chart === "CUSUM S_lo");
  expect(high).toHaveLength(20);
  for (const [i, row] of high.entries()) {
    sums = cusumStep(sums, number(row, "value") - 325, 0.3175);
    expect(sums.high).toBeCloseTo(number(row, "computed"), 3);
    expect(sums.low).toBeCloseTo(number(low[i] as Record<string, Cell>, "computed"), 3);
  }
});

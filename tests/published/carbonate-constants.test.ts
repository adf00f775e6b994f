import { test } from "vitest";
import {
  carbonateConstants,
  fugacityFactorNumber,
  lnK0Number,
  lnKbNumber,
  lnKwNumber,
  log10AragoniteNumber,
  log10CalciteNumber,
} from "#core/chemistry/carbonate-constants.ts";
import { lnKfNumber, lnKsNumber } from "#core/chemistry/ph-scale.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: Dickson, Sabine & Christian 2007 and Mucci 1983 (check values from memory); PyCO2SYS 1.8.3.4. See the table.
const table = readTable("carbonate-constants");

const CONSTANTS: Readonly<Record<string, (t: number, s: number) => number>> = {
  lnK0: lnK0Number,
  lnKb: lnKbNumber,
  lnKf: lnKfNumber,
  lnKs: lnKsNumber,
  lnKw: lnKwNumber,
  fugacityFactor: fugacityFactorNumber,
  log10K1Lueker: (t, s) => Math.log10(carbonateConstants("lueker", t, s).k1),
  log10K2Lueker: (t, s) => Math.log10(carbonateConstants("lueker", t, s).k2),
  log10K1Waters: (t, s) => Math.log10(carbonateConstants("waters", t, s).k1),
  log10K2Waters: (t, s) => Math.log10(carbonateConstants("waters", t, s).k2),
  log10Aragonite: log10AragoniteNumber,
  log10Calcite: log10CalciteNumber,
};

test("each equilibrium constant holds its check values", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const constant = CONSTANTS[row.text("constant")];
    if (constant === undefined) throw new Error(`row ${row.index}: no constant ${row.text("constant")}`);
    held.value(row, "value", constant(row.number("temperature"), row.number("salinity")));
  }
  held.report(52);
});

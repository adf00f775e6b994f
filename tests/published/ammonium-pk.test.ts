import { test } from "vitest";
import { ammoniaFraction, convertPh } from "#core/chemistry/index.ts";
import { degC, phUnits, psu } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: Clegg & Whitfield 1995 and Yao & Millero 1995 by PyCO2SYS 1.8.3.4. See the table.
const table = readTable("ammonium-pk");

test("the pK of ammonium and the step between NBS and total pH hold the reference values", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const [s, t] = [row.number("salinity"), row.number("temperature")];
    const water = { ph: phUnits(8), phScale: "total", t: degC(t), s: psu(s), water: "marine" } as const;
    const { pk } = ammoniaFraction(water);
    held.value(row, "pk", pk);
    const elsewhere = s < 5 || s > 40 || t > 30;
    held.value(row, "pkYaoMillero", pk, elsewhere ? { elsewhere } : {});
    const nbs = convertPh(phUnits(8), "total", "nbs", psu(s), degC(t)).value;
    held.value(row, "nbsMinusTotal", nbs === null ? null : nbs - 8);
  }
  held.report(90);
});

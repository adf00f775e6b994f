import { expect, test } from "vitest";
import type { CarbonateConstantSet } from "#core/chemistry/index.ts";
import { carbonateFromPhAlkalinity, seawaterDensity } from "#core/chemistry/index.ts";
import { convert, degC, meqPerL, phUnits, psu } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: PyCO2SYS 1.8.3.4 and R seacarb 3.3.4 (Dickson, Sabine & Christian 2007 and the papers of each constant). See the table.
const table = readTable("carbonate-ph-alkalinity");

test("the carbonate system from pH and alkalinity holds the reference values", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const [s, t] = [psu(row.number("salinity")), degC(row.number("temperature"))];
    const density = seawaterDensity(s, t).value;
    if (density === null) throw new Error(`row ${row.index} gave no density`);
    const constants = row.text("constants") as CarbonateConstantSet;
    const result = carbonateFromPhAlkalinity({
      ph: phUnits(row.number("ph")),
      phScale: "total",
      alkalinity: meqPerL(convert(row.number("alkalinity"), "ueq/kg", "meq/L", { density })),
      t,
      s,
      constants,
    });
    if (row.text("status") === "invalid") {
      expect(result, `row ${row.index}`).toMatchObject({ value: null, status: "invalid" });
      continue;
    }
    const { value } = result;
    if (value === null) throw new Error(`row ${row.index}: ${result.note}`);
    const where = { constants };
    held.value(row, "carbon", value.dissolvedInorganicCarbon);
    held.value(row, "co2", value.co2);
    held.value(row, "bicarbonate", value.bicarbonate);
    held.value(row, "carbonate", value.carbonate);
    held.value(row, "fco2", value.fco2);
    held.value(row, "pco2", value.pco2);
    held.value(row, "calcite", value.calciteSaturation);
    held.value(row, "aragonite", value.aragoniteSaturation);
    held.value(row, "carbonSeacarb", value.dissolvedInorganicCarbon, where);
    held.value(row, "pco2Seacarb", value.pco2, where);
    held.value(row, "aragoniteSeacarb", value.aragoniteSaturation, where);
  }
  held.report(368);
});

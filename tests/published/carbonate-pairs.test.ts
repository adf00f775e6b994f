import { test } from "vitest";
import {
  type CarbonateConstantSet,
  carbonateFromAlkalinityCarbon,
  carbonateFromAlkalinityPco2,
  carbonateFromPhCarbon,
  seawaterDensity,
} from "#core/chemistry/index.ts";
import { convert, degC, meqPerL, microatm, phUnits, psu, umolCarbonPerKg } from "#core/units/index.ts";
import { heldAgainst, type Row, readTable } from "./held.ts";

// Source: PyCO2SYS 1.8.3.4. See the table.
const table = readTable("carbonate-pairs");

function solve(row: Row) {
  const [s, t] = [psu(row.number("salinity")), degC(row.number("temperature"))];
  const density = seawaterDensity(s, t).value ?? undefined;
  if (density === undefined) throw new Error(`row ${row.index} gave no density`);
  const water = { s, t, constants: row.text("constants") as CarbonateConstantSet };
  const [first, second] = [row.number("first"), row.number("second")];
  const alkalinity = meqPerL(convert(first, "ueq/kg", "meq/L", { density }));
  switch (row.text("pair")) {
    case "alkalinity-carbon":
      return carbonateFromAlkalinityCarbon({
        ...water,
        alkalinity,
        dissolvedInorganicCarbon: umolCarbonPerKg(second),
      });
    case "alkalinity-pco2":
      return carbonateFromAlkalinityPco2({ ...water, alkalinity, pco2: microatm(second) });
    case "ph-carbon":
      return carbonateFromPhCarbon({
        ...water,
        ph: phUnits(first),
        phScale: "total",
        dissolvedInorganicCarbon: umolCarbonPerKg(second),
      });
    default:
      throw new Error(`row ${row.index}: unknown pair ${row.text("pair")}`);
  }
}

test("the other pairs of the carbonate system hold the reference values", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const { value, note } = solve(row);
    if (value === null) throw new Error(`row ${row.index}: ${note}`);
    held.value(row, "ph", value.phTotal);
    held.value(row, "alkalinity", value.alkalinityPerKg);
    held.value(row, "carbon", value.dissolvedInorganicCarbon);
    held.value(row, "pco2", value.pco2);
    held.value(row, "carbonate", value.carbonate);
    held.value(row, "aragonite", value.aragoniteSaturation);
  }
  held.report(128);
});

import { test } from "vitest";
import { gasSolubility, oxygenSaturation, seawaterDensity } from "#core/chemistry/index.ts";
import { convert, degC, hPa, psu } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: worked examples of the TEOS-10 toolbox; Hamme & Emerson 2004; Garcia & Gordon 1992; Weiss 1970. See the table.
const table = readTable("gas-solubility");

test("nitrogen, argon and oxygen in equilibrium with air hold the published and reference values", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const [t, s] = [degC(row.number("temperature")), psu(row.number("salinity"))];
    const nitrogen = gasSolubility("N2", t, s).value;
    const argon = gasSolubility("Ar", t, s).value;
    const oxygen = gasSolubility("O2", t, s).value;
    held.value(row, "nitrogen", nitrogen);
    held.value(row, "argon", argon);
    held.value(row, "oxygen", oxygen);
    held.value(row, "nitrogenWeiss", nitrogen);
    held.value(row, "argonWeiss", argon);
    held.value(row, "oxygenWeiss", oxygen);
    const density = seawaterDensity(s, t).value;
    const bensonKrause = oxygenSaturation(t, s, hPa(1013.25)).value;
    if (density === null || bensonKrause === null) throw new Error(`row ${row.index} gave no oxygen`);
    const perKg = convert(bensonKrause, "mg{O2}/L", "umol{O2}/kg", { density });
    held.against(row, "oxygenBensonKrause", row.number("oxygen"), perKg);
  }
  held.report(152);
});

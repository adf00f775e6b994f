import { test } from "vitest";
import { totalGasPressure } from "#core/chemistry/index.ts";
import { convert, degC, hPa, mgPerL, mmHg, psu } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: Weiss 1970 and Weiss & Price 1980 by R marelac 2.1.11; arithmetic of Colt 1984. See the table.
const table = readTable("gas-supersaturation");

test("a gas tensiometer reading is split into gases as the reference does", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const result = totalGasPressure({
      bp: hPa(convert(row.number("barometer"), "mm[Hg]", "hPa")),
      dp: mmHg(row.number("excess")),
      do: mgPerL(row.number("oxygen")),
      t: degC(row.number("temperature")),
      s: psu(row.number("salinity")),
    });
    held.value(row, "total", result.value);
    held.value(row, "oxygenPressure", result.oxygenPressure);
    held.value(row, "vapourPressure", result.vapourPressure);
    held.value(row, "nitrogenArgonPressure", result.nitrogenArgonPressure);
    held.value(row, "oxygenPercent", result.oxygenPercent);
    held.value(row, "nitrogenArgonPercent", result.nitrogenArgonPercent);
  }
  held.report(240);
});

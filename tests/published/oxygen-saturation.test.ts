import { expect, test } from "vitest";
import { oxygenFromPercent, oxygenPercent, oxygenSaturation } from "#core/chemistry/index.ts";
import { convert, degC, hPa, mgPerL, percent, psu } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: Standard Methods 4500-O table; R wq 0.4.8 (Benson & Krause 1984); GSW (Garcia & Gordon 1992). See the table.
const table = readTable("oxygen-saturation");

test("oxygen at saturation holds the printed and reference values, and 100 % is that much", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const water = [
      degC(row.number("temperature")),
      psu(row.number("salinity")),
      hPa(convert(row.number("pressure"), "kPa", "hPa")),
    ] as const;
    const saturation = oxygenSaturation(...water);
    expect(saturation.status, `row ${row.index}`).toBe(row.text("status"));
    held.value(row, "saturation", saturation.value);
    held.value(row, "saturationGarciaGordon", saturation.value);
    held.value(row, "saturation", oxygenFromPercent(percent(100), ...water).value);
    const share = oxygenPercent(mgPerL(row.number("saturation")), ...water).value;
    held.against(row, "saturation", row.number("saturation"), ((share ?? 0) / 100) * (saturation.value ?? 0));
  }
  held.report(174);
});

import { expect, test } from "vitest";
import { ammoniaFraction, type PhScale, unionisedAmmonia } from "#core/chemistry/index.ts";
import { convert, degC, mgPerLAsN, phUnits, psu, type Unit } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: Bower & Bidwell 1978 and Trussell 1972 (printed tables of other pK data), Emerson et al. 1975,
// Clegg & Whitfield 1995 by PyCO2SYS 1.8.3.4. See the table.
const table = readTable("ammonia");

test("NH3 from total ammonia in any basis and pH on any scale holds the published and reference values", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const water = {
      ph: phUnits(row.number("ph")),
      phScale: row.text("scale") as PhScale,
      t: degC(row.number("temperature")),
      s: psu(row.number("salinity")),
    };
    const fraction = ammoniaFraction(water);
    held.value(row, "fraction", fraction.value);
    const tan = mgPerLAsN(convert(row.number("total"), row.text("unit") as Unit, "mg{N}/L"));
    const ammonia = unionisedAmmonia({ ...water, tan });
    expect(ammonia.fraction, `row ${row.index}`).toBe(fraction.value);
    held.value(row, "asN", ammonia.value);
    held.value(row, "asNH3", ammonia.asNH3);
    if (row.text("status") === "ok") expect(ammonia.status, `row ${row.index}`).toBe("ok");
  }
  held.report(130);
});

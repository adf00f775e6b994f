import { expect, test } from "vitest";
import { salinityFromHydrometer } from "#core/chemistry/index.ts";
import { degC, pureNumber } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Source: python-seawater (EOS-80, UNESCO 44) solved by SciPy. See the table.
const table = readTable("hydrometer");

test("a hydrometer reading becomes the reference salinity, and no salinity below fresh water", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const result = salinityFromHydrometer({
      reading: pureNumber(row.number("reading")),
      t: degC(row.number("temperature")),
      tCal: degC(row.number("calibration")),
      tRef: degC(row.number("reference")),
      glassExpansion: row.number("expansion"),
    });
    if (row.text("status") === "below_fresh_water") {
      expect(result, `row ${row.index}`).toMatchObject({ value: null, status: "invalid" });
    } else {
      expect(result.value, `row ${row.index}`).not.toBeNull();
      held.value(row, "salinity", result.value);
    }
  }
  held.report(77);
});

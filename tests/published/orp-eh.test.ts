import { test } from "vitest";
import { ehFromOrp, type ReferenceElectrode } from "#core/chemistry/index.ts";
import { degC, millivolts } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: an electrode glossary's table and a sensor maker's table of reference potentials. See the table.
const table = readTable("orp-eh");

test("Eh and reference potential hold the printed tables and lie on lines between their points", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const electrode = row.text("electrode") as ReferenceElectrode;
    const result = ehFromOrp(millivolts(row.number("orp")), electrode, degC(row.number("temperature")));
    held.value(row, "reference", result.reference);
    held.value(row, "eh", result.value);
  }
  held.report(60);
});

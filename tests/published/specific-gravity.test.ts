import { test } from "vitest";
import { specificGravity } from "#core/chemistry/index.ts";
import { degC, psu } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Source: python-seawater (EOS-80, UNESCO 44). See the table.
const table = readTable("specific-gravity");

test("specific gravity holds the reference values for each pair of temperatures", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const sg = specificGravity(
      psu(row.number("salinity")),
      degC(row.number("temperature")),
      degC(row.number("reference")),
    );
    held.value(row, "specificGravity", sg.value);
  }
  held.report(42);
});

import { test } from "vitest";
import { convert, type Unit } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: IUPAC abridged standard atomic weights; definitions of the units. See the table.
const table = readTable("units");

test("every conversion holds the arithmetic on published weights and definitions", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const density = row.numberOrNull("density");
    const options = density === null ? {} : { density };
    held.value(
      row,
      "expected",
      convert(row.number("value"), row.text("from") as Unit, row.text("to") as Unit, options),
    );
  }
  held.report(109);
});

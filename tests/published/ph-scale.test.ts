import { test } from "vitest";
import { convertPh, type PhScale } from "#core/chemistry/index.ts";
import { degC, phUnits, psu } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Source: PyCO2SYS 1.8.3.4 with fH of Takahashi et al. 1982. See the table.
const table = readTable("ph-scale");

test("a pH on any scale becomes the reference's pH on the other three", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const from = row.text("scale") as PhScale;
    for (const to of ["total", "sws", "free", "nbs"] as const) {
      const result = convertPh(
        phUnits(row.number("ph")),
        from,
        to,
        psu(row.number("salinity")),
        degC(row.number("temperature")),
      );
      held.value(row, to, result.value);
    }
  }
  held.report(112);
});

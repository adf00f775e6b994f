import { expect, test } from "vitest";
import { practicalSalinity } from "#core/chemistry/index.ts";
import { dbar, degC, msPerCm } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: UNESCO 44 (Fofonoff & Millard 1983) p. 9; GSW-Python 3.6.16; R wq 0.4.8 (Hill et al. 1986). See the table.
const table = readTable("salinity");

test("practical salinity holds the published and reference values, with their status", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const result = practicalSalinity(
      msPerCm(row.number("conductivity")),
      degC(row.number("temperature")),
      dbar(row.number("pressure")),
    );
    expect(result.status, `row ${row.index}`).toBe(row.text("status"));
    if (row.numberOrNull("salinity") === null) expect(result.value).toBeNull();
    held.value(row, "salinity", result.value);
    const hill = row.numberOrNull("salinityHill");
    if (hill !== null && hill < 2) held.value(row, "salinityHill", result.value);
  }
  held.report(100);
});

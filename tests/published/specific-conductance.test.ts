import { test } from "vitest";
import {
  conductivityFromSalinity,
  conductivityFromSpecificConductance,
  practicalSalinity,
  specificConductance25,
} from "#core/chemistry/index.ts";
import { degC, msPerCm, psu, usPerCm } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: definition of linear compensation; GSW-Python 3.6.16 for what sea salt really conducts. See the table.
const table = readTable("specific-conductance");

test("linear compensation and its inverse are the definition, and sea salt conducts as the reference says", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const [c, t, alpha] = [row.number("conductivity"), row.number("temperature"), row.number("alpha")];
    const k25 = specificConductance25(msPerCm(c), degC(t), alpha).value;
    held.value(row, "linear", k25 === null ? null : k25 / 1000);
    const back = conductivityFromSpecificConductance(
      usPerCm(1000 * row.number("linear")),
      degC(t),
      alpha,
    ).value;
    held.against(row, "linear", c, back);
    const s = practicalSalinity(msPerCm(c), degC(t)).value;
    held.value(row, "salinity", s);
    if (s !== null) held.value(row, "seaSalt", conductivityFromSalinity(psu(s), degC(25)).value);
  }
  held.report(110);
});

import { test } from "vitest";
import { relativeUncertaintyNumber } from "#core/chemistry/ammonia-uncertainty.ts";
import { ammoniaFraction, ammoniaSensitivity } from "#core/chemistry/index.ts";
import { degC, phUnits, psu } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Source: PyCO2SYS 1.8.3.4 with numeric derivatives; Monte Carlo of 200000 draws. See the table.
const table = readTable("ammonia-uncertainty");

test("sensitivities and combined uncertainty of NH3 hold derivatives and Monte Carlo of the reference", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const [s, t] = [row.number("salinity"), row.number("temperature")];
    const water = {
      ph: phUnits(row.number("ph")),
      phScale: "total",
      t: degC(t),
      s: psu(s),
      water: "marine",
    } as const;
    const { value: fraction, pk } = ammoniaFraction(water);
    if (fraction === null || pk === null) throw new Error(`row ${row.index} gave no fraction`);
    held.value(row, "asN", fraction * row.number("total"));
    const sensitivity = ammoniaSensitivity("marine", pk, fraction, t, s);
    held.value(row, "perPh", sensitivity.ph);
    held.value(row, "perDegree", sensitivity.t);
    held.value(row, "perSalinity", sensitivity.s);
    const relative = relativeUncertaintyNumber(
      "marine",
      pk,
      fraction,
      t,
      s,
      row.number("uPh"),
      row.number("uTemperature"),
      row.number("uSalinity"),
      row.number("uTotal"),
    );
    held.value(row, "relative", relative);
    held.value(row, "relativeMonteCarlo", relative);
  }
  held.report(132);
});

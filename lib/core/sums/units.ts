import { convert, isUnit, UnitError } from "../units/index.ts";
import { readUnit } from "../units/unit-as-typed.ts";
import { step } from "../working/explanation.ts";
import { inUnits, text } from "./field.ts";
import { output, type Sum, type SumResult } from "./sum.ts";

const EXPLANATION = {
  expression: ["value in the second unit = value in the first x factor"],
  range: "exact conversions only; between a litre and a kilogram with the water's density",
  source: "definitions of the units (SI, UCUM); IUPAC abridged standard atomic weights",
  steps: [],
  uncertainty: [],
};
const EQUATION = "definition of the units";

const refused = (note: string): SumResult => ({
  status: "invalid",
  note,
  equation: EQUATION,
  outputs: {},
  explanation: EXPLANATION,
});

const conversion: Sum = {
  name: "units",
  label: "Unit conversion",
  group: "Units",
  about:
    "A value in another unit: nitrate as N and as NO3, alkalinity in dKH, oxygen in mL/L, pressures, temperatures.",
  fields: [
    inUnits("value", "Value", [["1", 4]], { example: 10 }),
    text("from", "From unit", "mg/L as NO3", "write it as on the kit: mg/L as NO3, dKH, mmHg"),
    text("to", "To unit", "mg/L as N", "write it as on the kit: mg/L as N, meq/L, hPa"),
    inUnits("density", "Density of the water, kg/m³", [["1", 1]], {
      isOptional: true,
      hint: "needed only between litres and kilograms",
    }),
  ],
  outputs: [output("converted", "Converted", "", 6)],
  cautions: ["A kit's mg/L without its basis can mean two very different results: as N or as the whole ion."],
  run(v) {
    const [from, to] = [v.text("from"), v.text("to")].map((typed) => ({ typed, code: readUnit(typed) }));
    for (const unit of [from, to])
      if (unit?.code === undefined || !isUnit(unit.code))
        return refused(
          `"${(unit?.typed ?? "").slice(0, 40)}" is not a known unit, or does not say what it counts`,
        );
    const [a, b] = [from?.code, to?.code];
    if (a === undefined || b === undefined || !isUnit(a) || !isUnit(b)) return refused("a unit is missing");
    const density = v.numberOrNull("density");
    try {
      const options = density === null ? {} : { density };
      const value = convert(v.number("value"), a, b, options);
      const factor = convert(1, a, b, options) - convert(0, a, b, options);
      return {
        status: "ok",
        note: null,
        equation: EQUATION,
        outputs: { converted: { value } },
        explanation: { ...EXPLANATION, steps: [step(`1 ${a} in ${b}`, factor)] },
      };
    } catch (error) {
      if (error instanceof UnitError) return refused(error.message);
      throw error;
    }
  },
};

export const UNIT_SUMS: readonly Sum[] = [conversion];

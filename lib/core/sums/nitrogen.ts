import { unionisedAmmonia, waterFromSalinity } from "../chemistry/index.ts";
import { degC, mgPerLAsN, phUnits, psu } from "../units/index.ts";
import { explainAmmonia } from "../working/explain-ammonia.ts";
import { inUnits, ofQuantity } from "./field.ts";
import { output, resultOf, type Sum } from "./sum.ts";
import { PH_SCALE, scaleOf, WATER, waterOf } from "./water-fields.ts";

const ammonia: Sum = {
  name: "ammonia",
  label: "Un-ionised ammonia",
  group: "Nitrogen",
  about: "How much of a total ammonia result is NH3, the form that harms animals.",
  fields: [
    ofQuantity("total_ammonia", "total_ammonia", {
      example: 0.1,
      hint: "kits differ: as N, as NH3 or as NH4",
    }),
    ofQuantity("ph", "ph", { example: 8.1 }),
    PH_SCALE,
    ofQuantity("temperature", "temperature", { example: 25, hint: "at which the pH was measured" }),
    ofQuantity("salinity", "salinity", { example: 35, hint: "0 in fresh water" }),
    WATER,
    inUnits("uncertainty", "Standard uncertainty of the ammonia result", [["%", 0]], { usual: 10 }),
  ],
  outputs: [
    output("as_n", "Un-ionised ammonia as N", "mg/L as N", 4),
    output("as_nh3", "Un-ionised ammonia as NH₃", "mg/L as NH₃", 4),
    output("fraction", "Fraction that is NH₃", "%", 2),
  ],
  cautions: [
    "Published limits are given either as N or as NH3: the two differ by 22 %.",
    "Published methods differ by 15 to 18 %: only compare numbers from the same method.",
    "A result below the kit's detection limit is only an upper bound: enter the limit and write < before the answer.",
  ],
  run(v) {
    const [tan, ph, t, s] = ["total_ammonia", "ph", "temperature", "salinity"].map((n) => v.number(n)) as [
      number,
      number,
      number,
      number,
    ];
    const phScale = scaleOf(v);
    const water = waterOf(v) ?? waterFromSalinity(s);
    const tanRelative = v.number("uncertainty") / 100;
    const found = unionisedAmmonia({
      tan: mgPerLAsN(tan),
      ph: phUnits(ph),
      phScale,
      t: degC(t),
      s: psu(s),
      water,
      u: { tanRelative },
    });
    const toNH3 = found.value === null || found.value === 0 ? 0 : (found.asNH3 ?? 0) / found.value;
    const scaled = (n: number | null) => (n === null ? null : n * toNH3);
    return resultOf(
      found,
      {
        as_n: { value: found.value, low: found.low, high: found.high },
        as_nh3: { value: found.asNH3, low: scaled(found.low), high: scaled(found.high) },
        fraction: { value: found.fraction === null ? null : 100 * found.fraction },
      },
      explainAmmonia({ ph, phScale, t, s, water, tan, tanRelative }),
    );
  },
};

export const NITROGEN_SUMS: readonly Sum[] = [ammonia];

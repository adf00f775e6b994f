import { CLARITY } from "./clarity-quantities.ts";
import { GASES } from "./gas-quantities.ts";
import { NUTRIENTS } from "./nutrient-quantities.ts";
import { PHYSICAL } from "./physical-quantities.ts";
import { PLANT_AND_LIFE } from "./plant-quantities.ts";
import type { NumberQuantity } from "./quantity-kinds.ts";
import { TREATMENT } from "./treatment-quantities.ts";

/** Numbers that are measured or derived, by id. Concentrations carry their basis in the unit code. */
export const NUMBER_QUANTITIES = {
  ...PHYSICAL,
  ...GASES,
  ...NUTRIENTS,
  ...TREATMENT,
  ...CLARITY,
  ...PLANT_AND_LIFE,
} as const satisfies Record<string, NumberQuantity>;

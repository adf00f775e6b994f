import { CARBONATE_SUMS } from "./carbonate.ts";
import { GAS_SUMS } from "./gas.ts";
import { LIGHT_SUMS, REDOX_SUMS } from "./light-and-redox.ts";
import { NITROGEN_SUMS } from "./nitrogen.ts";
import { SALT_SUMS } from "./salt.ts";
import type { Sum } from "./sum.ts";
import { TREATMENT_SUMS } from "./treatment.ts";
import { UNIT_SUMS } from "./units.ts";

/** Every sum, in the order in which a list shows them. */
export const SUMS: readonly Sum[] = [
  ...NITROGEN_SUMS,
  ...SALT_SUMS,
  ...GAS_SUMS,
  ...CARBONATE_SUMS,
  ...REDOX_SUMS,
  ...LIGHT_SUMS,
  ...TREATMENT_SUMS,
  ...UNIT_SUMS,
];

/** The sum of that name, or undefined. */
export const sumNamed = (name: string): Sum | undefined => SUMS.find((sum) => sum.name === name);

export { answerSum, sumView } from "./answer.ts";
export type { Field, Sent } from "./field.ts";
export type { Sum } from "./sum.ts";

import { systemType } from "#core/set-up/system-type.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import { invalid } from "../errors.ts";
import type { SystemSetUp } from "../set-up.ts";

/** Throws AppError "invalid" where a system keeps no animals; `field` names it in what was sent. */
export function demandHome(at: SystemSetUp, field: string): void {
  const { keepsAnimals, label } = systemType(at.system.type);
  if (keepsAnimals) return;
  throw invalid([
    {
      field,
      value: at.system.code,
      says: `is a ${labelInSentence(label)} and keeps no animals`,
      remedy: "choose another system, or change its type in set-up",
    },
  ]);
}

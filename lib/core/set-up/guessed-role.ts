import type { PointRole } from "./point-role.ts";

/** First word that fits decides; "contact-sump" is a contact chamber. */
const NAMES: readonly (readonly [RegExp, PointRole])[] = [
  [/contact/, "contact-chamber"],
  [/make-?up/, "make-up"],
  [/sump/, "sump"],
  [/filter/, "filter"],
  [/(loop|chilled|heated).*supply/, "loop-supply"],
  [/(loop|chilled|heated).*return/, "loop-return"],
  [/plant-?room/, "plant-room"],
  [/(^|-)air($|-)/, "room-air"],
  [/(^|-)(pump|float|valve|chiller|heater|uv)s?($|-)/, "equipment"],
  [/(^|-)(display|exhibit)/, "exhibit"],
];

/**
 * A guess at what a point is for from its short name, where nobody has said: "contact-chamber" is a contact chamber, "outlet-2" is other.
 * Whoever stores it says with it that it is a guess.
 */
export const guessedRole = (name: string): PointRole =>
  NAMES.find(([spelling]) => spelling.test(name))?.[1] ?? "other";

import type { PhScale, Water } from "../chemistry/index.ts";
import { choice, type SumValues } from "./field.ts";

/** Fields that several sums share: on which scale a pH is, and what kind of water it is of. */
export const PH_SCALE = choice(
  "ph_scale",
  "pH scale",
  [
    ["nbs", "NBS: standard buffers, pH 4, 7 and 10"],
    ["total", "total: tris buffer in sea water"],
    ["sws", "sea-water scale"],
    ["free", "free"],
  ],
  "nbs",
);
export const WATER = choice(
  "water",
  "Kind of water",
  [
    ["by-salinity", "decided by salinity"],
    ["fresh", "fresh"],
    ["brackish", "brackish"],
    ["marine", "marine"],
  ],
  "by-salinity",
);

export const scaleOf = (v: SumValues): PhScale => v.text("ph_scale") as PhScale;

/** Undefined where it is to follow from salinity. */
export const waterOf = (v: SumValues): Water | undefined => {
  const text = v.text("water");
  return text === "by-salinity" ? undefined : (text as Water);
};

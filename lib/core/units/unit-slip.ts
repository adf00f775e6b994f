import { canonicalUnit } from "./canonical-unit.ts";
import { type DisplayUnit, displayUnits, toDisplay, unitLabel } from "./display.ts";
import type { NumberQuantityId } from "./quantity.ts";
import type { NumberQuantity } from "./quantity-kinds.ts";
import type { Unit } from "./unit.ts";

/** So near to the same number in another unit, as a share of it: water moves a little between two readings. Our own. */
const NEAR = 0.05;
/** Units nearer to each other than this factor are not told from a change of the water (nitrogen as N and as NH4: 1.29). Our own. */
const APART = 1.5;

function unitsOf(spec: NumberQuantity): DisplayUnit[] {
  const others = displayUnits(spec.id as NumberQuantityId).slice(1);
  const micro = spec.unit.replace(/^mg/, "ug") as Unit;
  if (micro === spec.unit || others.some(({ unit }) => unit === micro)) return others;
  if (canonicalUnit(spec.id, micro) === undefined) return others;
  return [...others, { unit: micro, label: unitLabel(micro), decimals: spec.decimals }];
}

/**
 * The other unit of the quantity in which one of two values says what the other says in the registry's: what is left where a sender
 * changes its unit and does not say so. Null where there is none, which is the rule: water does not jump by the ratio of two units.
 * `from`, `to`: two values of one stream, one after the other, in the registry's unit. Source: `convert`; the tolerances are our own.
 */
export function slippedUnit(spec: NumberQuantity, from: number, to: number): DisplayUnit | null {
  const isSlip = (unit: Unit, before: number, after: number) => {
    const same = toDisplay(before, spec.id as NumberQuantityId, unit);
    const [small, large] = [
      Math.min(Math.abs(same), Math.abs(before)),
      Math.max(Math.abs(same), Math.abs(before)),
    ];
    return large >= APART * small && Math.abs(after - same) <= NEAR * Math.abs(same);
  };
  if (!Number.isFinite(from) || !Number.isFinite(to) || from === 0 || to === 0) return null;
  return unitsOf(spec).find(({ unit }) => isSlip(unit, from, to) || isSlip(unit, to, from)) ?? null;
}

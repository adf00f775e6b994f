export { type CanonicalUnit, canonicalUnit } from "./canonical-unit.ts";
export {
  type ConvertOptions,
  convert,
  convertible,
  UnitError,
} from "./convert.ts";
export { type DisplayUnit, displayUnits, fromDisplay, toDisplay, unitLabel } from "./display.ts";
export {
  isQuantityId,
  type NumberQuantity,
  type NumberQuantityId,
  QUANTITIES,
  QUANTITY_IDS,
  type QuantityId,
  type QuantityKind,
  quantity,
  type StateQuantity,
  type StateQuantityId,
  stateIndex,
  stateWord,
  type UnitOf,
  type ValueOf,
} from "./quantity.ts";
export * from "./unit.ts";

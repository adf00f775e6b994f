import { NUMBER_QUANTITIES } from "./number-quantities.ts";
import type { NumberQuantity, Practice, StateQuantity } from "./quantity-kinds.ts";
import { STATE_QUANTITIES } from "./state-quantities.ts";
import type { In } from "./unit.ts";

export type {
  NumberQuantity,
  Practice,
  QuantityKind,
  Size,
  StateQuantity,
} from "./quantity-kinds.ts";

/** The one registry of what can be measured. Topics, forms, axes, files and checks all read it. */
export const QUANTITIES = {
  ...NUMBER_QUANTITIES,
  ...STATE_QUANTITIES,
} as const satisfies Record<string, NumberQuantity | StateQuantity>;

export type QuantityId = keyof typeof QUANTITIES;
export type NumberQuantityId = keyof typeof NUMBER_QUANTITIES;
export type StateQuantityId = keyof typeof STATE_QUANTITIES;
/** The unit code of a number quantity, and a value in it. */
export type UnitOf<Q extends NumberQuantityId> = (typeof NUMBER_QUANTITIES)[Q]["unit"];
export type ValueOf<Q extends NumberQuantityId> = In<UnitOf<Q>>;

/** Every id, in the order of the registry: numbers first. */
export const QUANTITY_IDS = Object.keys(QUANTITIES) as readonly QuantityId[];

/** True when `id` names a quantity of the registry; case-sensitive. */
export function isQuantityId(id: string): id is QuantityId {
  return Object.hasOwn(QUANTITIES, id);
}

/** The quantity of that id, or undefined when the registry has none. */
export function quantity(id: string): NumberQuantity | StateQuantity | undefined {
  return isQuantityId(id) ? QUANTITIES[id] : undefined;
}

/** What a table by quantity has for an id as it is stored or sent; undefined where the table says nothing, or the registry has no such id. */
export function forQuantity<T>(table: Readonly<Partial<Record<QuantityId, T>>>, id: string): T | undefined {
  return isQuantityId(id) ? table[id] : undefined;
}

/** What keepers go by for a number quantity; undefined for states and for an id that the registry does not have. */
export function practiceOf(id: string): Practice | undefined {
  const spec = quantity(id);
  return spec?.kind === "number" ? spec.practice : undefined;
}

/** The number under which a state word is stored, or undefined for a word the quantity does not know. */
export function stateIndex(state: StateQuantity, word: string): number | undefined {
  const index = state.words.indexOf(word);
  return index < 0 ? undefined : index;
}

/** The word stored under `index`, or undefined where there is none. */
export function stateWord(state: StateQuantity, index: number): string | undefined {
  return state.words[index];
}

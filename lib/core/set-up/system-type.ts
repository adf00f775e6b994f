/** What a system is used for, and what depends on it. Its water and what people call it are given separately. */

export interface SystemTypeSpec {
  readonly label: string;
  /** Animals live in it: they can be moved in, and starting bands hold. */
  readonly keepsAnimals: boolean;
  /** Its filter is new or dosed as a rule: where nothing is said, an ammonia test counts for a day instead of a week. */
  readonly hasYoungFilter: boolean;
}
const type = (label: string, more: Partial<SystemTypeSpec> = {}): SystemTypeSpec => ({
  label,
  keepsAnimals: true,
  hasYoungFilter: false,
  ...more,
});

/** How long an ammonia test counts in each: common practice, no source. */
export const SYSTEM_TYPES = {
  exhibit: type("Exhibit"),
  holding: type("Holding"),
  quarantine: type("Quarantine", { hasYoungFilter: true }),
  acclimation: type("Acclimation", { hasYoungFilter: true }),
  nursery: type("Nursery or pup pool", { hasYoungFilter: true }),
  "make-up-tank": type("Make-up tank", { keepsAnimals: false }),
  temporary: type("Temporary", { hasYoungFilter: true }),
  other: type("Other"),
} as const satisfies Record<string, SystemTypeSpec>;

export type SystemType = keyof typeof SYSTEM_TYPES;
export const SYSTEM_TYPE_IDS = Object.keys(SYSTEM_TYPES) as [SystemType, ...SystemType[]];

/** What depends on a type. */
export const systemType = (id: SystemType): SystemTypeSpec => SYSTEM_TYPES[id];

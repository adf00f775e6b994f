/** Habitat profiles: what a species meets at home, by life stage, month and quantity, each number with where it is known from. */
import type { Instant } from "../time/instant.ts";

/** Life stages; the last three are those of a jelly. */
export const STAGES = [
  "egg or larva",
  "pup or juvenile",
  "adult",
  "breeding",
  "gestating",
  "polyp",
  "ephyra",
  "medusa",
] as const;
export type Stage = (typeof STAGES)[number];

/** What kind of number an entry holds. Only preferred and advised ones set edges; tolerated and lethal ones bound action limits. */
export const ENTRY_KINDS = ["ambient", "used", "preferred", "tolerated", "lethal", "advice"] as const;
export type EntryKind = (typeof ENTRY_KINDS)[number];

/** What low and high stand for. */
export const MEANINGS = [
  "percentiles 5 to 95",
  "mean and spread",
  "extremes seen",
  "author's stated range",
  "monthly means",
] as const;
export type Meaning = (typeof MEANINGS)[number];

export const CONFIDENCES = ["high", "medium", "low", "borrowed"] as const;
export type Confidence = (typeof CONFIDENCES)[number];

/** How the source was obtained: its own text, another text that quotes it, memory, arithmetic, or no source at all. */
export const MARKS = [
  "read",
  "read as quoted",
  "from memory",
  "computed",
  "common practice, no source",
] as const;
export type Mark = (typeof MARKS)[number];

export interface ProfileEntry {
  /** Id of a number in the registry. */
  readonly quantity: string;
  /** Null: every stage that has no entry of its own. */
  readonly stage: Stage | null;
  /** 1 to 12, holding at mid-month; null: all year. */
  readonly month: number | null;
  /** In the quantity's unit; null where the source does not say. */
  readonly low: number | null;
  readonly typical: number | null;
  readonly high: number | null;
  readonly means: Meaning;
  readonly kind: EntryKind;
  readonly depth: string | null;
  readonly place: string | null;
  readonly years: string | null;
  readonly source: string;
  readonly mark: Mark;
  readonly method: string | null;
  readonly confidence: Confidence;
  readonly note: string | null;
}

/** One version of a profile; the newest of a species and population is in force. */
export interface Profile {
  readonly id: string;
  readonly species: string;
  /** Founder origin, e.g. "Monterey"; null: the species wherever it lives. */
  readonly population: string | null;
  readonly version: number;
  /** Where its home water lies, for day length and climatology; null where not said. */
  readonly latitude: number | null;
  readonly longitude: number | null;
  readonly entries: readonly ProfileEntry[];
  readonly recordedAt: Instant;
  readonly recordedBy: string;
  readonly reason: string;
}

/** How long young take, in days, with its source. */
export interface Development {
  readonly kind: "gestation" | "incubation";
  readonly shortestDays: number;
  readonly longestDays: number;
  readonly source: string;
  readonly mark: Mark;
}
export interface Species {
  /** Short name, as in fixtures and addresses: "cownose-ray". */
  readonly id: string;
  readonly name: string;
  readonly scientific: string | null;
  readonly group: string | null;
  readonly development: readonly Development[];
  /** Sperm may be stored or development delayed: the late edge of a breeding window is not bounded. Null: not known. */
  readonly mayDelay: boolean | null;
  readonly delaySource: string | null;
  readonly facts: readonly { readonly says: string; readonly source: string; readonly mark: Mark }[];
}

/** A fault of one entry, at its field. */
export interface EntryFault {
  readonly entry: number;
  readonly field: keyof ProfileEntry;
  readonly says: string;
  readonly remedy: string;
}

/**
 * What is wrong with a profile's entries: a number without a source, low not below high, a typical value outside, nothing at all, a
 * month outside 1 to 12. `isNumber` tells whether a quantity is a number of the registry. Empty when all are sound.
 */
export function entryFaults(
  entries: readonly ProfileEntry[],
  isNumber: (quantity: string) => boolean,
): EntryFault[] {
  return entries.flatMap((entry, i) => {
    const faults: EntryFault[] = [];
    const add = (field: keyof ProfileEntry, says: string, remedy: string) =>
      faults.push({ entry: i, field, says, remedy });
    const { low, typical, high, month, source } = entry;
    if (!isNumber(entry.quantity))
      add("quantity", `${entry.quantity} is not a known numeric quantity`, "use an id such as temperature");
    if (source.trim().length < 3)
      add("source", "every number needs a source", "name the paper, handbook, data set or person");
    if (month !== null && !(Number.isInteger(month) && month >= 1 && month <= 12))
      add("month", `${month} is not a month`, "use 1 to 12, or leave it out for all year");
    if (low === null && typical === null && high === null)
      add("typical", "no number given", "give at least one of low, typical, high");
    if (low !== null && high !== null && low >= high)
      add("low", `low ${low} must be below high ${high}`, "swap them, or give a typical value instead");
    if (typical !== null && ((low !== null && typical < low) || (high !== null && typical > high)))
      add("typical", `typical ${typical} is outside low to high`, "check the three numbers");
    return faults;
  });
}

/**
 * The profile in force for an animal: the newest version of its own population, else of the species as a whole, else undefined (a profile
 * of another population is somebody else's home).
 */
export function profileFor(
  profiles: readonly Profile[],
  species: string,
  population: string | null,
): Profile | undefined {
  const newest = (of: string | null) =>
    profiles
      .filter((profile) => profile.species === species && profile.population === of)
      .reduce<Profile | undefined>(
        (best, each) => (best && best.version > each.version ? best : each),
        undefined,
      );
  return newest(population) ?? newest(null);
}

/** Stages whose numbers serve where a stage has none of its own: a breeding or gestating animal is an adult, and an adult jelly a medusa. */
const SERVES_FOR: Partial<Record<Stage, Stage>> = {
  breeding: "adult",
  gestating: "adult",
  medusa: "adult",
  adult: "medusa",
};

/**
 * The entries of some kinds that hold for a stage: its own, else those of the stage that serves for it, else those for every stage.
 * Decided by quantity, so that a stage with only a temperature of its own keeps the rest.
 */
export function entriesFor(
  profile: Profile,
  quantity: string,
  stage: Stage,
  kinds: readonly EntryKind[],
): readonly ProfileEntry[] {
  const all = profile.entries.filter((entry) => entry.quantity === quantity && kinds.includes(entry.kind));
  for (const wanted of [stage, SERVES_FOR[stage], null]) {
    if (wanted === undefined) continue;
    const found = all.filter((entry) => entry.stage === wanted);
    if (found.length > 0) return found;
  }
  return [];
}

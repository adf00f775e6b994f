/** Who lives in a system from when to when: one stay is one animal or group in one system at one life stage. */
import type { Instant } from "../time/instant.ts";
import type { Stage } from "./profile.ts";

/** How a stay ended: the next one of the same animal follows a move or a change of stage. */
export type StayEnd = "moved" | "stage" | "counted" | "left" | "died" | "hatched";

export interface Stay {
  readonly id: string;
  /** The animal or group, the same through every stay of its. */
  readonly animal: string;
  readonly system: string;
  readonly species: string;
  readonly population: string | null;
  readonly name: string | null;
  readonly sex: "female" | "male" | null;
  readonly stage: Stage;
  readonly count: number;
  readonly from: Instant;
  readonly to: Instant | null;
  /** Null while it goes on, or where nobody said how it ended. */
  readonly ended: StayEnd | null;
  /** Body mass of all of them together in kilograms; absent where nobody gave it. */
  readonly mass?: number | null;
  /** When that was so, and how it is known: weighed, estimated from length. */
  readonly massAt?: Instant | null;
  readonly massSource?: string | null;
}

/** A stay of so many of its animals: what they weigh together is their share of the whole. */
export function ofCount<T extends Pick<Stay, "count" | "mass">>(stay: T, count: number): T {
  const { mass } = stay;
  if (mass === undefined || mass === null || count === stay.count) return { ...stay, count };
  return { ...stay, count, mass: (mass * count) / stay.count };
}

/** Whether a stay holds an instant: from its first instant, up to but not at its last. */
export const holds = (stay: { readonly from: Instant; readonly to: Instant | null }, at: Instant): boolean =>
  stay.from <= at && (stay.to === null || at < stay.to);

/** The stays of a system at an instant. */
export const livingAt = <
  T extends { readonly from: Instant; readonly to: Instant | null; readonly system: string },
>(
  stays: readonly T[],
  system: string,
  at: Instant,
): T[] => stays.filter((stay) => stay.system === system && holds(stay, at));

/** The instants from `from` on at which who lives in a system changes, rising, `from` itself first. */
export function changesFrom(stays: readonly Stay[], system: string, from: Instant): Instant[] {
  const instants = new Set<Instant>([from]);
  for (const stay of stays) {
    if (stay.system !== system) continue;
    if (stay.from > from) instants.add(stay.from);
    if (stay.to !== null && stay.to > from) instants.add(stay.to);
  }
  return [...instants].sort((a, b) => a - b);
}

/** A breeding watch: when a birth or hatching may come, from what is known and no more certain than that. */
import { DAY, type Instant } from "../time/instant.ts";
import type { Development } from "./profile.ts";

export const OUTCOMES = ["born", "aborted", "resorbed", "not pregnant"] as const;
export type Outcome = (typeof OUTCOMES)[number];

/** A window that a person drew closer after an ultrasound; it stands beside the computed one. */
export interface Narrowed {
  readonly earliest: Instant;
  readonly latest: Instant;
  readonly by: string;
  readonly at: Instant;
  readonly reason: string;
}
export interface BreedingWatch {
  readonly id: string;
  readonly system: string;
  /** The mother, or the group that laid. */
  readonly animal: string;
  readonly species: string;
  readonly kind: Development["kind"];
  /** First and last day with a male, or first and last day eggs were laid; null = unknown, which leaves that edge open. */
  readonly first: Instant | null;
  readonly last: Instant | null;
  /** Sperm may be stored or development delayed. */
  readonly mayDelay: boolean;
  readonly shortestDays: number;
  readonly longestDays: number;
  readonly source: string;
  readonly narrowed: Narrowed | null;
  readonly openedAt: Instant;
  readonly openedBy: string;
  readonly outcome: Outcome | null;
  readonly endedAt: Instant | null;
}

export type BreedingEventKind =
  | "ultrasound"
  | "laying"
  | "birth"
  | "outcome"
  | "narrowed"
  | "temperature"
  | "count"
  | "pup pool";
/** What was seen or done; a correction is a new event that takes the place of one before. */
export interface BreedingEvent {
  readonly id: string;
  readonly watch: string | null;
  readonly system: string;
  readonly animal: string | null;
  readonly kind: BreedingEventKind;
  readonly at: Instant;
  readonly data: Readonly<Record<string, unknown>>;
  readonly by: string;
  readonly recordedAt: Instant;
  readonly supersedes: string | null;
}

export interface BreedingWindow {
  /** First day + shortest; null where the first day is not known. */
  readonly earliest: Instant | null;
  /** Last day + longest; null where it is not bounded. */
  readonly latest: Instant | null;
  /** Why the late edge is open. */
  readonly unbounded: "last day unknown" | "storage possible" | null;
}

/**
 * The computed window of a watch: first day + shortest to last day + longest. An unknown day leaves its edge open; where storage or delay is
 * possible the late edge is not bounded, whatever the last day.
 */
export function breedingWindow(
  watch: Pick<BreedingWatch, "first" | "last" | "mayDelay" | "shortestDays" | "longestDays">,
): BreedingWindow {
  const earliest = watch.first === null ? null : Math.round(watch.first + watch.shortestDays * DAY);
  if (watch.mayDelay) return { earliest, latest: null, unbounded: "storage possible" };
  if (watch.last === null) return { earliest, latest: null, unbounded: "last day unknown" };
  return { earliest, latest: Math.round(watch.last + watch.longestDays * DAY), unbounded: null };
}

export type WatchStand = "ended" | "before" | "in window" | "overdue" | "not bounded";

/**
 * Where a watch stands at an instant: before its window, in it, past its late edge and still open (overdue), or ended. Without an early edge
 * it counts as in the window from its first moment: a birth may come any day.
 */
export function standOf(watch: BreedingWatch, at: Instant): WatchStand {
  if (watch.endedAt !== null && watch.endedAt <= at) return "ended";
  const computed = breedingWindow(watch);
  const earliest = watch.narrowed?.earliest ?? computed.earliest;
  const latest = watch.narrowed?.latest ?? computed.latest;
  if (earliest !== null && at < earliest) return "before";
  if (latest !== null && at >= latest) return "overdue";
  return latest === null && watch.narrowed === null ? "not bounded" : "in window";
}

/** Whether set-points should not be ramped and no catch-up planned: in the window, open-ended or overdue. */
export const isWatched = (watch: BreedingWatch, at: Instant): boolean => {
  const stand = standOf(watch, at);
  return stand === "in window" || stand === "not bounded" || stand === "overdue";
};

/** What a stream did around the beginning of an incident, in the terms that causes are described in. */

import type { PointRole } from "../set-up/point-role.ts";
import { median } from "../statistics/robust.ts";
import { HOUR, type Instant, MINUTE } from "../time/instant.ts";
import { practiceOf, type QuantityId, type Size } from "../units/quantity.ts";

export interface Track {
  readonly system: string;
  readonly point: string;
  readonly role: PointRole;
  readonly quantity: QuantityId;
  readonly isBench: boolean;
  /** Rising in time; good values only, in the quantity's unit (a state: the index of its word). */
  readonly at: readonly Instant[];
  readonly value: readonly number[];
  /** Of a state: what it says now; null for numbers. */
  readonly word: string | null;
  /** The last bench result is by another method than the one before it, and another result. */
  readonly methodChanged: boolean;
  /** By how many methods the newest results of the bench were taken, and whether two of them found the same. */
  readonly methods: number;
  readonly methodsAgree: boolean;
  /** What the plan in force moved by over the same time; null where there is none. */
  readonly planned: number | null;
}
export type Way = "up" | "down" | "steady";
export interface Sign {
  readonly track: Track;
  /** Since shortly before the beginning, and over the days before. Null: too few readings to say. */
  readonly hours: Way | null;
  readonly days: Way | null;
  /** Most of it came within half an hour. */
  readonly isStep: boolean;
  /** The same to the last digit for an hour and more, where it moved before. */
  readonly isFrozen: boolean;
  readonly change: number;
}

/** Of states and of an id that the registry does not have: a tenth of the value. */
const OTHERWISE: Size = [0, 0.1];

/** How large a change of a quantity about a value is worth a word. */
export function matters(id: string, around: number): number {
  const [amount, share] = practiceOf(id)?.matters ?? OTHERWISE;
  return Math.max(1e-9, amount, share * Math.abs(around));
}

const wayOf = (change: number, least: number): Way =>
  change >= least ? "up" : change <= -least ? "down" : "steady";

const BEFORE = 3 * HOUR;
const LEAD = 15 * MINUTE;
const NOW = 45 * MINUTE;
const DAYS = 7 * 24 * HOUR;
const DAY_ENDS = 24 * HOUR;
const STEP = 45 * MINUTE;
const STEP_SHARE = 0.6;
const FROZEN = HOUR;
const FROZEN_LEAST = 4;

function middle(track: Track, from: Instant, to: Instant): number | null {
  const values = track.value.filter((_, i) => {
    const at = track.at[i] as Instant;
    return at >= from && at < to;
  });
  return values.length === 0 ? null : median(values);
}

/** The last two results of the bench say which way; a result counts for days. */
function benchSign(track: Track, onset: Instant): Sign {
  const last = track.value.at(-1);
  const earlier = track.value.filter(
    (_, i) => (track.at[i] as Instant) < onset - DAY_ENDS || i < track.value.length - 1,
  );
  const before = earlier.length === 0 ? null : median(earlier.slice(-3));
  const change = last === undefined || before === null ? 0 : last - before;
  const way = last === undefined || before === null ? null : wayOf(change, matters(track.quantity, before));
  return { track, hours: way, days: way, isStep: false, isFrozen: false, change };
}

/** What a stream did: `onset` when the incident began, `now` how far is looked. */
export function signOf(track: Track, onset: Instant, now: Instant): Sign {
  if (track.isBench) return benchSign(track, onset);
  const before = middle(track, onset - BEFORE, onset - LEAD) ?? middle(track, onset - 2 * BEFORE, onset);
  const after = middle(track, now - NOW, now + 1) ?? track.value.at(-1) ?? null;
  const known = before !== null && after !== null;
  const change = known ? after - before - usualChange(track, onset, now) : 0;
  const least = known ? matters(track.quantity, before) : 0;
  const [first, last] = [
    middle(track, now - DAYS, now - DAYS + DAY_ENDS),
    middle(track, now - DAY_ENDS, now + 1),
  ];
  const slow = first === null || last === null ? null : wayOf(last - first, matters(track.quantity, first));
  return {
    track,
    hours: known ? wayOf(change, least) : null,
    days: slow,
    isStep:
      known && Math.abs(change) >= least && largestStep(track, onset, now) >= STEP_SHARE * Math.abs(change),
    isFrozen: isFrozen(track, now),
    change,
  };
}

/** What the same hours did the day before: the day curve of light and feed is no failure. 0 where that is not known. */
function usualChange(track: Track, onset: Instant, now: Instant): number {
  const before = middle(track, onset - DAY_ENDS - BEFORE, onset - DAY_ENDS);
  const after = middle(track, now - DAY_ENDS - BEFORE / 2, now - DAY_ENDS + BEFORE / 2);
  return before === null || after === null ? 0 : after - before;
}

function largestStep(track: Track, onset: Instant, now: Instant): number {
  let most = 0;
  const start = onset - HOUR;
  for (let i = 0; i < track.at.length; i++) {
    const from = track.at[i] as Instant;
    if (from < start || from > now) continue;
    for (let j = i + 1; j < track.at.length && (track.at[j] as Instant) - from <= STEP; j++)
      most = Math.max(most, Math.abs((track.value[j] as number) - (track.value[i] as number)));
  }
  return most;
}

/** The same to the last digit for an hour and more, and more than twice as long as it ever was before: coarse readings rest often. */
function isFrozen(track: Track, now: Instant): boolean {
  const last = track.value.at(-1);
  if (track.word !== null || last === undefined) return false;
  let i = track.value.length - 1;
  while (i > 0 && track.value[i - 1] === last) i--;
  const held = track.value.length - i;
  if (held < FROZEN_LEAST || now - (track.at[i] as Instant) < FROZEN || i <= 2) return false;
  let [run, longest] = [1, 1];
  for (let k = 1; k < i; k++) {
    run = track.value[k] === track.value[k - 1] ? run + 1 : 1;
    longest = Math.max(longest, run);
  }
  return held > 2 * longest;
}

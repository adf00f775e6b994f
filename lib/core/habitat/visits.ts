/** The systems one animal or group lived in, one after the other: its stays, those in one water that touch taken together. */
import type { Instant } from "../time/instant.ts";
import type { Stay } from "./residents.ts";

/** A time in one water without a break, whatever the stage. */
export interface Visit<T> {
  readonly system: string;
  readonly from: Instant;
  /** Null while it goes on. */
  readonly to: Instant | null;
  /** Rising; several at once where a group has two stages. */
  readonly stays: readonly T[];
}

/**
 * Visits of the stays of one animal or group, rising by their beginning. A group that was parted lives in several systems at once: each has
 * its visit. Empty stays (they end where they begin) are left out.
 */
export function visitsOf<T extends Pick<Stay, "system" | "from" | "to">>(stays: readonly T[]): Visit<T>[] {
  const rising = stays
    .filter((stay) => stay.to === null || stay.to > stay.from)
    .sort((a, b) => a.from - b.from);
  const visits: Visit<T>[] = [];
  for (const stay of rising) {
    const i = visits.findLastIndex((visit) => visit.system === stay.system);
    const last = visits[i];
    if (last && (last.to === null || stay.from <= last.to)) {
      const to = last.to === null || stay.to === null ? null : Math.max(last.to, stay.to);
      visits[i] = { ...last, to, stays: [...last.stays, stay] };
    } else visits.push({ system: stay.system, from: stay.from, to: stay.to, stays: [stay] });
  }
  return visits;
}

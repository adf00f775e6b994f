import type { Instant } from "./instant.ts";
import { clockOf } from "./zone-clock.ts";

/** Clock time at a site for a sentence, as near as it is to `seenFrom`: "01:45", "Tue 01:45", "24 Nov 01:45", "24 Nov 2025 01:45". */
export const wallTime = (at: Instant, zone: string, seenFrom: Instant): string =>
  clockOf(zone).near(at, seenFrom);

/** "25 Oct": the date at a site. */
export const dayMonth = (at: Instant, zone: string): string => clockOf(zone).dayMonth(at);

import { v7 } from "uuid";
import type { Instant } from "#core/time/instant.ts";

/** UUIDv7: the milliseconds of `now`, then random bits, so ids sort by when they were made. Source: RFC 9562 section 5.7. */
export const uuidV7 = (now: Instant): string => v7({ msecs: now });

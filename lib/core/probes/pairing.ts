import { MINUTE } from "../time/instant.ts";

/** A bench result is compared with the median of the probe this long before and after the sample. Common practice, no source. */
export const PAIRED_WITHIN = 10 * MINUTE;

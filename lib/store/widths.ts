import type { Resolution } from "./port.ts";

/** Milliseconds a rollup row spans, by the name of the resolution. */
export const WIDTH_OF: Readonly<Record<Exclude<Resolution, "raw">, number>> = {
  "15min": 900_000,
  "3h": 10_800_000,
  day: 86_400_000,
};
export const ROLLUP_WIDTHS: readonly number[] = Object.values(WIDTH_OF);

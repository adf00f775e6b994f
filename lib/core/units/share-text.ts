import { lowText } from "./bound-text.ts";

/** A share as people read it, never rounded up to all or down to nothing: "98 %", "> 99 %", "< 1 %". */
export function percent(share: number): string {
  const whole = Math.round(share * 100);
  if (whole === 100 && share < 1) return "> 99 %";
  if (whole === 0 && share > 0) return "< 1 %";
  return `${whole} %`;
}

/** "99.9 %": what was reached, rounded down, so that a hundred is said only where all was. */
export const reachedPercent = (share: number): string => `${lowText(100 * share, 1)} %`;

/** Health of a measuring point apart from the water, in the letters of NAMUR NE 107 (2017). */
import type { Instant } from "../time/instant.ts";

export const HEALTH_LETTERS = ["F", "C", "S", "M", "good"] as const;
export type HealthLetter = (typeof HEALTH_LETTERS)[number];
export const HEALTH_WORDS: Readonly<Record<HealthLetter, string>> = {
  F: "failure",
  C: "function check",
  S: "out of specification",
  M: "maintenance required",
  good: "good",
};

export interface HealthFacts {
  readonly now: Instant;
  readonly silent: boolean;
  /** Quality flag of the newest reading, 9 where there is none. */
  readonly flag: number;
  /** Open findings of the stream. */
  readonly findings: readonly { readonly kind: string; readonly rule: string }[];
  /** Out of the water for calibration or cleaning now. */
  readonly isChecked: boolean;
  /** pH electrode slope at the last calibration, percent. */
  readonly slope: number | null;
  readonly due: Instant | null;
  /** The twin's chart says that one of the two has moved. */
  readonly twinMoved: boolean;
}
export interface Health {
  readonly letter: HealthLetter;
  readonly why: string;
}

/** Electrode slopes below which a pH probe is worn, and not to be believed. Common practice, no source. */
const SLOPE_WORN = 95;
const SLOPE_POOR = 85;

/** The letter that holds, with its reason. What is out for a check is silent or odd because of it; after that the most serious comes first. */
export function healthOf(facts: HealthFacts): Health {
  const { findings, slope } = facts;
  const has = (kind: string) => findings.some((row) => row.kind === kind);
  // A trend and an unusual hour are of the water: the probe is not to blame for what it shows rightly.
  const hasMoved = findings.some((row) => row.kind === "drifting" && row.rule === "bench");
  if (facts.isChecked) return { letter: "C", why: "being calibrated or cleaned" };
  if (facts.silent) return { letter: "F", why: "no reading has arrived when expected" };
  if (facts.flag === 9) return { letter: "F", why: "no reading has arrived yet" };
  if (facts.flag === 4) return { letter: "F", why: "its reading failed its checks" };
  if (has("stuck")) return { letter: "F", why: "its value is stuck" };
  if (has("exposed")) return { letter: "F", why: "it seems to be out of the water" };
  if (facts.flag === 3) return { letter: "S", why: "its reading is suspect" };
  if (hasMoved) return { letter: "S", why: "it has drifted from the bench tests" };
  if (has("disagreeing") || facts.twinMoved)
    return { letter: "S", why: "it no longer agrees with its twin: one of the two has drifted" };
  if (has("noisy")) return { letter: "S", why: "its readings are noisier than they used to be" };
  if (slope !== null && slope < SLOPE_POOR) return { letter: "S", why: `electrode slope ${slope} %` };
  if (slope !== null && slope < SLOPE_WORN) return { letter: "M", why: `electrode slope ${slope} %, worn` };
  if (facts.due !== null && facts.now >= facts.due) return { letter: "M", why: "calibration is overdue" };
  return { letter: "good", why: "" };
}

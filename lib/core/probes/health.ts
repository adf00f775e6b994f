/** Health of a measuring point apart from the water, in the letters of NAMUR NE 107 (2017). */
import type { FindingKind } from "../alarms/finding.ts";
import { FINDING_KIND_NAMES, FINDING_KINDS, traitsOf } from "../alarms/kinds.ts";
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
  readonly findings: readonly { readonly kind: FindingKind; readonly rule: string }[];
  /** Out of the water for calibration or cleaning now. */
  readonly isChecked: boolean;
  /** pH electrode slope at the last calibration, percent. */
  readonly slope: number | null;
  /** pH electrode offset at the last calibration, mV at pH 7. */
  readonly offset: number | null;
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
/** Electrode offsets, mV to either side at pH 7, beyond which it is worn, and not to be believed. Common practice, no source. */
const OFFSET_WORN = 30;
const OFFSET_POOR = 60;

const TWIN_MOVED = { kind: "disagreeing", rule: "twin" } as const;

/** What open findings say of the probe by this letter: the first of them in the order of the kinds. */
function saidBy(findings: HealthFacts["findings"], letter: "F" | "S"): Health | undefined {
  const order = (kind: FindingKind) => FINDING_KIND_NAMES.indexOf(kind);
  return findings
    .toSorted((a, b) => order(a.kind) - order(b.kind))
    .flatMap((row) => traitsOf(row).probe ?? [])
    .find((said) => said.letter === letter);
}

/** The letter that holds, with its reason. What is out for a check is silent or odd because of it; after that the most serious comes first. */
export function healthOf(facts: HealthFacts): Health {
  const { findings, slope, offset } = facts;
  const ofTwin = facts.twinMoved ? [...findings, TWIN_MOVED] : findings;
  if (facts.isChecked) return { letter: "C", why: "being calibrated or cleaned" };
  if (facts.silent) return FINDING_KINDS.silent.probe;
  if (facts.flag === 9) return { letter: "F", why: "no reading has arrived yet" };
  if (facts.flag === 4) return { letter: "F", why: "its reading failed its checks" };
  const failed = saidBy(ofTwin, "F");
  if (failed) return failed;
  if (facts.flag === 3) return { letter: "S", why: "its reading is suspect" };
  const outOfSpecification = saidBy(ofTwin, "S");
  if (outOfSpecification) return outOfSpecification;
  const off = offset === null ? 0 : Math.abs(offset);
  if (slope !== null && slope < SLOPE_POOR) return { letter: "S", why: `electrode slope ${slope} %` };
  if (off > OFFSET_POOR) return { letter: "S", why: `electrode offset ${offset} mV` };
  if (slope !== null && slope < SLOPE_WORN) return { letter: "M", why: `electrode slope ${slope} %, worn` };
  if (off > OFFSET_WORN) return { letter: "M", why: `electrode offset ${offset} mV, worn` };
  if (facts.due !== null && facts.now >= facts.due) return { letter: "M", why: "calibration is overdue" };
  return { letter: "good", why: "" };
}

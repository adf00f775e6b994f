import type { Instant } from "../time/instant.ts";
import { wallTime } from "../time/wall-time.ts";
import type { NumberQuantity, StateQuantity } from "../units/index.ts";
import type { EvidenceKey, FindingKind, KeptEvidence } from "./finding.ts";

/** What a sentence needs of a finding. */
export interface WordedFinding<K extends FindingKind = FindingKind> {
  readonly kind: K;
  readonly rule: string;
  readonly began: Instant;
  readonly ended: Instant | null;
  readonly late: boolean;
  readonly evidence: KeptEvidence;
}
/** The clauses of a kind's sentence, the first with its subject. */
export type Sentence<K extends FindingKind> = (finding: WordedFinding<K>, setting: Setting) => string[];
export interface Setting {
  readonly spec: NumberQuantity | StateQuantity;
  /** The point's code; "display" is where one looks first and is not named. */
  readonly point: string;
  readonly zone: string;
  readonly now: Instant;
  /** The believable value now, where there is one: evidence keeps the worst, a sentence begins with what is. */
  readonly current?: number | null;
  /** The last good reading of a stream that is silent now; null: its newest reading cannot be believed. Left out where `current` is given. */
  readonly last?: { readonly value: number; readonly at: Instant } | null;
}

export const at = (setting: Setting, instant: Instant) => wallTime(instant, setting.zone, setting.now);

/** "since 01:45", or "from 01:45 to 03:10" once it is over. */
export function when(finding: WordedFinding, setting: Setting): string {
  const began = at(setting, finding.began);
  return finding.ended === null ? `since ${began}` : `from ${began} to ${at(setting, finding.ended)}`;
}

export function number<K extends FindingKind>(finding: WordedFinding<K>, key: EvidenceKey<K>): number | null {
  const value = finding.evidence[key];
  return typeof value === "number" && Number.isFinite(value) ? value : null;
}

export function text<K extends FindingKind>(finding: WordedFinding<K>, key: EvidenceKey<K>): string | null {
  const value = finding.evidence[key];
  return typeof value === "string" ? value : null;
}

export function subject({ spec, point }: Setting): string {
  return point === "display" ? spec.label : `${spec.label} (${point})`;
}

export function shape(spec: NumberQuantity | StateQuantity): {
  readonly decimals: number;
  readonly unitLabel: string;
} {
  return spec.kind === "number" ? spec : { decimals: 0, unitLabel: "" };
}

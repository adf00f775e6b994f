import type { Instant } from "../time/instant.ts";
import type { QuantityId } from "../units/quantity.ts";

/** Numbers in the quantity's own unit (instants and spans: milliseconds) and words. A key that is missing or null leaves its clause out. */
type Evidence<N extends string, W extends string = never> = Readonly<
  Partial<Record<N, number | null> & Record<W, string | null>>
>;

/**
 * Every kind of finding with the rules that raise it (a side, a direction, a cause; of a wrong state its word, of an overrun the condition
 * that goes on) and the evidence it is raised with. What follows from a kind stands in `FINDING_KINDS`, its sentence in `SENTENCES`.
 */
export interface Claims {
  "out of band": {
    rule: "high" | "low";
    evidence: Evidence<"value" | "edge" | "limit" | "urgent" | "deviation">;
  };
  "too fast": {
    rule: "rising" | "falling";
    evidence: Evidence<"value" | "rate" | "window" | "limit" | "plan" | "from" | "to", "rule">;
  };
  drifting: {
    /** Against its bench tests, beside its usual days, over a week, by results of the bench. */
    rule: "bench" | "time of day" | "trend" | "tests";
    evidence: Evidence<
      | "value"
      | "bench"
      | "apart"
      | "limit"
      | "percent"
      | "since"
      | "residual"
      | "usual"
      | "change"
      | "days"
      | "tests"
      | "threshold"
      | "plan"
      | "perDay"
      | "slowest"
      | "fastest"
      | "earliest"
      | "latest"
    >;
  };
  stepped: {
    rule: "up" | "down" | "more" | "fewer";
    evidence: Evidence<"from" | "to" | "threshold" | "alone">;
  };
  /** held: how long unchanged is too long for this stream. */
  stuck: { rule: "flat"; evidence: Evidence<"value" | "held"> };
  exposed: { rule: "span" | "air"; evidence: Evidence<"value" | "before"> };
  disagreeing: { rule: "twin"; evidence: Evidence<"difference" | "usual", "other"> };
  noisy: { rule: "noise"; evidence: Evidence<"jump" | "usual"> };
  /** sender: the gateway of its last reading. */
  silent: { rule: "" | "gap"; evidence: Evidence<"lastAt" | "interval" | "lastValue", "sender" | "held"> };
  "wrong state": { rule: string; evidence: Evidence<never, "word"> };
  "light off": {
    rule: "dark" | "hours" | "phase" | "clock";
    evidence: Evidence<"from" | "to" | "off" | "hours" | "planned" | "dawn" | "dusk" | "days" | "change">;
  };
  overrun: { rule: string; evidence: Evidence<"from", "work" | "still"> };
}
export type FindingKind = keyof Claims;
export type RuleOf<K extends FindingKind> = Claims[K]["rule"];
export type EvidenceOf<K extends FindingKind> = Claims[K]["evidence"];
/** What a sentence may ask of evidence: also the worst value and when it was, which every condition keeps, and why it was withdrawn. */
export type EvidenceKey<K extends FindingKind> = K extends FindingKind
  ? keyof EvidenceOf<K> | "worst" | "worstAt" | "withdrawn"
  : never;
/** Evidence as it is kept and sent: of a finding raised by an older version keys may be missing. */
export type KeptEvidence = Readonly<Record<string, number | string | null>>;

/** Why a finding does not count although it was raised; its value under the key `withdrawn`. */
export const WITHDRAWN = { air: "withdrawn: the probe was out of the water" } as const;
export type Withdrawal = keyof typeof WITHDRAWN;

/** look: wants a look; action: somebody must act; urgent: past a third limit. Action and urgent interrupt. */
export type Severity = "look" | "action" | "urgent";

/** What the evaluator claims, with its evidence. */
export interface Finding {
  /** Deterministic: stream, kind, rule and the instant it began. */
  readonly id: string;
  readonly system: string;
  readonly stream: number;
  readonly quantity: QuantityId;
  readonly kind: FindingKind;
  /** One of the kind's rules, or one that an older version raised it by. */
  readonly rule: string;
  /** The most serious it has been. */
  readonly severity: Severity;
  readonly began: Instant;
  /** Event time at which the on-delay had run. */
  readonly raised: Instant;
  readonly ended: Instant | null;
  readonly evidence: KeptEvidence;
  /** Judged from data that arrived late or by import. */
  readonly late: boolean;
}

/** 0 nothing, 1 look, 2 action, 3 urgent: for comparing. */
export type Level = 0 | 1 | 2 | 3;
const SEVERITIES: readonly Severity[] = ["look", "action", "urgent"];
export const severityOf = (level: Exclude<Level, 0>): Severity => SEVERITIES[level - 1] as Severity;
export const levelOf = (severity: Severity): Level => (SEVERITIES.indexOf(severity) + 1) as Level;
/** A finding interrupts when it needs action. */
export const interrupts = (level: Level): boolean => level >= 2;

export const findingId = (stream: number, kind: FindingKind, rule: string, began: Instant): string =>
  `${stream}.${kind.replaceAll(" ", "-")}.${rule.replaceAll(" ", "-")}.${began}`;

/** Kinds during which the value is not known, apart from the table of kinds: the first script of a page has no room for the whole of it. A test holds both together. */
const NOT_KNOWN_KINDS: readonly FindingKind[] = ["silent"];
export const isNotKnownKind = (kind: FindingKind): boolean => NOT_KNOWN_KINDS.includes(kind);

import type { Instant } from "../time/instant.ts";

export const FINDING_KINDS = [
  "out of band",
  "leaving",
  "too fast",
  "drifting",
  "stepped",
  "stuck",
  "noisy",
  "silent",
  "disagreeing",
  "exposed",
  "wrong state",
  "light off",
  "overrun",
  "late",
] as const;
export type FindingKind = (typeof FINDING_KINDS)[number];
/** look: wants a look; action: somebody must act; urgent: past a third limit. Action and urgent interrupt. */
export type Severity = "look" | "action" | "urgent";

/** What the evaluator claims, with its evidence. */
export interface Finding {
  /** Deterministic: stream, kind, rule and the instant it began. */
  readonly id: string;
  readonly system: string;
  readonly stream: number;
  readonly quantity: string;
  readonly kind: FindingKind;
  /** Which side or rule: "high", "low", "rising", "falling", the state's word. */
  readonly rule: string;
  /** The most serious it has been. */
  readonly severity: Severity;
  readonly began: Instant;
  /** Event time at which the on-delay had run. */
  readonly raised: Instant;
  readonly ended: Instant | null;
  /** Numbers behind it in the quantity's own unit: worst value and when, edge, limit, rate, window. */
  readonly evidence: Readonly<Record<string, number | string | null>>;
  /** Judged from data that arrived late or by import: it calls nobody. */
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

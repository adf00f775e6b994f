/** What may be wrong with a stream by the time of its readings: which finding each condition becomes, by which rules, and what mutes it. */
import type { EvidenceOf, RuleOf } from "../alarms/finding.ts";
import type { WaterKind } from "../alarms/kinds.ts";
import type { QuietPart } from "../logbook/kinds.ts";

type Spec = {
  [K in WaterKind]: {
    readonly kind: K;
    /** Of the kind's rules those it raises; "any": the words of a state. */
    readonly rules: readonly RuleOf<K>[] | "any";
    /** The part of a log entry's rule that mutes it: how a quantity moves and compares with other days, or its low side; null: only "all" does. */
    readonly part: Exclude<QuietPart, "all"> | null;
  };
}[WaterKind];

/** An alarm whose rule none raises (of an older version) is the first one's of its kind. */
export const CONDITION_SPECS = {
  high: { kind: "out of band", rules: ["high"], part: null },
  low: { kind: "out of band", rules: ["low"], part: "low" },
  rising: { kind: "too fast", rules: ["rising"], part: "rate" },
  falling: { kind: "too fast", rules: ["falling"], part: "rate" },
  state: { kind: "wrong state", rules: "any", part: null },
  probe: { kind: "drifting", rules: ["bench"], part: null },
  step: { kind: "stepped", rules: ["up", "down", "more", "fewer"], part: "rate" },
  noise: { kind: "noisy", rules: ["noise"], part: "rate" },
  flat: { kind: "stuck", rules: ["flat"], part: null },
  exposed: { kind: "exposed", rules: ["span", "air"], part: null },
  usual: { kind: "drifting", rules: ["time of day"], part: "rate" },
  trend: { kind: "drifting", rules: ["trend", "tests"], part: "rate" },
  twin: { kind: "disagreeing", rules: ["twin"], part: null },
  dark: { kind: "light off", rules: ["dark"], part: null },
  hours: { kind: "light off", rules: ["hours"], part: null },
  phase: { kind: "light off", rules: ["phase", "clock"], part: null },
} as const satisfies Readonly<Record<string, Spec>>;
export type ConditionName = keyof typeof CONDITION_SPECS;
export const CONDITIONS = Object.keys(CONDITION_SPECS) as readonly ConditionName[];

export type KindOf<N extends ConditionName> = (typeof CONDITION_SPECS)[N]["kind"];
export type RuleOn<N extends ConditionName> = RuleOf<KindOf<N>>;
export type EvidenceOn<N extends ConditionName> = EvidenceOf<KindOf<N>>;

export const kindOf = <N extends ConditionName>(name: N): KindOf<N> => CONDITION_SPECS[name].kind;

/** The condition that becomes a finding of this kind by this rule; undefined for kinds of the receiving clock. */
export function conditionOf(kind: string, rule: string): ConditionName | undefined {
  const of = CONDITIONS.filter((name) => CONDITION_SPECS[name].kind === kind);
  const raises = (name: ConditionName): boolean => {
    const rules: readonly string[] | "any" = CONDITION_SPECS[name].rules;
    return rules === "any" || rules.includes(rule);
  };
  return of.find(raises) ?? of[0];
}

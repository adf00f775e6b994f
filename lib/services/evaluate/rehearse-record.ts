/**
 * The evaluator run over a recorded file in memory: the same water state and receive state as on a server, with receive time = event time.
 * Strictly causal: a finding is known by the reading that raised it, and over by the reading that ended it.
 */
import { type Finding, interrupts, levelOf, type Severity, severityOf } from "#core/alarms/finding.ts";
import { wording } from "#core/alarms/wording.ts";
import { CONDITIONS, kindOf } from "#core/evaluate/conditions.ts";
import { missingDerivedStreams } from "#core/evaluate/derivations.ts";
import type { EvaluatorFacts, StreamFacts } from "#core/evaluate/facts.ts";
import { emptyOutputs, type Input } from "#core/evaluate/outputs.ts";
import {
  emptyEffects,
  emptyReceiveState,
  fireTimers,
  noteArrival,
  type ReceiveState,
  updateAlarms,
} from "#core/evaluate/receive-state.ts";
import { compileSystem, type StreamSettings, type SystemSettings } from "#core/evaluate/settings.ts";
import type { OpenFinding } from "#core/evaluate/water-state.ts";
import type { Instant } from "#core/time/instant.ts";
import { sortInputs } from "./inputs.ts";
import { createWalker, type Walker, walk } from "./walker.ts";

export interface Rehearsed {
  readonly stream: number;
  readonly kind: Finding["kind"];
  readonly rule: string;
  severity: Severity;
  readonly began: Instant;
  /** When it became a finding, and when it was seen to be over; null while it is open. */
  readonly raised: Instant;
  cleared: Instant | null;
  /** Event time of its end, which its off-delay may put before it was seen. */
  ended: Instant | null;
  /** As it was worded when it was raised. */
  readonly says: string;
}

/** The facts with the streams that the evaluator derives from those given, as it would create them on a server. */
export function withDerivedStreams(facts: EvaluatorFacts): EvaluatorFacts {
  const missing = missingDerivedStreams(facts).find(
    (needed) =>
      !facts.streams.some(
        (stream) =>
          stream.origin === "derived" &&
          stream.quantity === needed.quantity &&
          stream.pointCode === needed.pointCode,
      ),
  );
  if (!missing) return facts;
  const derived: StreamFacts = {
    id: Math.max(0, ...facts.streams.map((stream) => stream.id)) + 1,
    system: facts.system.id,
    pointCode: missing.pointCode,
    pointRole: missing.pointRole,
    quantity: missing.quantity,
    origin: "derived",
    interval: missing.interval,
    critical: false,
  };
  return withDerivedStreams({ ...facts, streams: [...facts.streams, derived] });
}

export interface Rehearsal {
  readonly settings: SystemSettings;
  /** Everything measured at an instant; instants must not go back. A second value for a stream and instant is left out. */
  take(at: Instant, values: readonly { readonly stream: number; readonly value: number }[]): void;
  /** What was found so far, in order of raising. */
  found(): readonly Rehearsed[];
}

/** A rehearsal of one system's settings, before its first reading. */
export function createRehearsal(given: EvaluatorFacts): Rehearsal {
  const settings = compileSystem(withDerivedStreams(given));
  const walker = createWalker(settings);
  const receiving = emptyReceiveState();
  const findings = new Map<string, Rehearsed>();
  return {
    settings,
    take(at, values) {
      noteSilence(settings, walker, receiving, at, findings);
      const inputs = values.map(
        ({ stream, value }): Input => ({ stream, at, value, received: at, mark: null, recorded: false }),
      );
      for (const input of sortInputs(inputs, settings.byId)) {
        const stream = settings.byId.get(input.stream);
        if (!stream) continue;
        const effects = emptyEffects();
        noteArrival(receiving, settings, stream, at, effects);
        for (const finding of effects.findings.values()) note(settings, findings, finding, at);
        if (walk(walker, input, false)) collect(settings, walker, receiving, at, findings);
      }
    },
    found: () => [...findings.values()].sort((a, b) => a.raised - b.raised),
  };
}

function noteSilence(
  settings: SystemSettings,
  walker: Walker,
  receiving: ReceiveState,
  now: Instant,
  findings: Map<string, Rehearsed>,
): void {
  const effects = emptyEffects();
  fireTimers(receiving, settings, walker.water, now, effects);
  for (const finding of effects.findings.values()) note(settings, findings, finding, now);
}

/** Look at what one reading changed, and forget the outputs that only a store wants. */
function collect(
  settings: SystemSettings,
  walker: Walker,
  receiving: ReceiveState,
  at: Instant,
  findings: Map<string, Rehearsed>,
): void {
  const { out, water } = walker;
  for (const id of new Set(out.recent)) {
    const stream = settings.byId.get(id);
    const state = water.streams.get(id);
    if (!stream || !state) continue;
    updateAlarms(receiving, settings, stream, water, at, emptyEffects());
    for (const name of CONDITIONS) {
      const { open } = state.conditions[name];
      if (open) note(settings, findings, toFinding(settings, stream, kindOf(name), open), at);
    }
  }
  for (const finding of out.findings.values()) note(settings, findings, finding, at);
  walker.out = emptyOutputs();
  walker.checkpoints = [];
}

const toFinding = (
  settings: SystemSettings,
  stream: StreamSettings,
  kind: Finding["kind"],
  open: OpenFinding,
): Finding => ({
  id: open.id,
  system: settings.system.id,
  stream: stream.id,
  quantity: stream.quantity,
  kind,
  rule: open.rule,
  severity: open.peak === 0 ? "look" : severityOf(open.peak),
  began: open.began,
  raised: open.raised,
  ended: null,
  evidence: { ...open.evidence, worst: open.worst, worstAt: open.worstAt },
  late: false,
});

function note(
  settings: SystemSettings,
  findings: Map<string, Rehearsed>,
  finding: Finding,
  at: Instant,
): void {
  const known = findings.get(finding.id);
  if (known) {
    if (levelOf(finding.severity) > levelOf(known.severity)) known.severity = finding.severity;
    if (finding.ended !== null && known.cleared === null) {
      known.cleared = at;
      known.ended = finding.ended;
    }
    return;
  }
  const stream = settings.byId.get(finding.stream);
  if (!stream) return;
  const setting = { spec: stream.spec, point: stream.pointCode, zone: settings.zone, now: finding.raised };
  findings.set(finding.id, {
    stream: finding.stream,
    kind: finding.kind,
    rule: finding.rule,
    severity: finding.severity,
    began: finding.began,
    raised: finding.raised,
    cleared: finding.ended === null ? null : at,
    ended: finding.ended,
    says: wording(finding, setting),
  });
}

/** Whether it would have called somebody. */
export const wouldInterrupt = (finding: Pick<Rehearsed, "severity">): boolean =>
  interrupts(levelOf(finding.severity));

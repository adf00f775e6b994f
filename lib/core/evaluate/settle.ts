/** Findings of one system's conditions: as they end, and as they stand when the outputs are taken. */
import { type Finding, type FindingKind, type Level, severityOf } from "../alarms/finding.ts";
import { ROLLUP_WIDTHS } from "../quality/rollup.ts";
import type { Instant } from "../time/instant.ts";
import { rollupRow } from "./accumulate.ts";
import { CONDITIONS, kindOf } from "./conditions.ts";
import type { FoldContext } from "./fold-context.ts";
import type { Outputs } from "./outputs.ts";
import type { StreamSettings } from "./settings.ts";
import type { OpenFinding, WaterState } from "./water-state.ts";

/** A condition has ended: its finding goes out as it was. */
export function closeFinding(
  stream: StreamSettings,
  system: string,
  kind: FindingKind,
  closed: OpenFinding,
  ended: Instant,
  out: Outputs,
): void {
  const finding = findingOf(stream, system, kind, closed, ended);
  out.findings.set(finding.id, finding);
}

function findingOf(
  stream: StreamSettings,
  system: string,
  kind: FindingKind,
  open: OpenFinding,
  ended: Instant | null,
): Finding {
  return {
    id: open.id,
    system,
    stream: stream.id,
    quantity: stream.quantity,
    kind,
    rule: open.rule,
    severity: severityOf(open.peak as Exclude<Level, 0>),
    began: open.began,
    raised: open.raised,
    ended,
    evidence: { ...open.evidence, worst: open.worst, worstAt: open.worstAt },
    late: open.late,
  };
}

/** Add what is still open (rollups, findings) of the touched streams, so that the outputs say how things stand now. */
export function addOpenOutputs(context: FoldContext, water: WaterState, out: Outputs): void {
  for (const id of out.touched) {
    const stream = context.settings.byId.get(id);
    const state = water.streams.get(id);
    if (!stream || !state) continue;
    state.rollups.forEach((open, i) => {
      if (open) out.rollups.push(rollupRow(id, ROLLUP_WIDTHS[i] as number, open));
    });
    for (const name of CONDITIONS) {
      const { open } = state.conditions[name];
      if (!open) continue;
      const finding = findingOf(stream, context.settings.system.id, kindOf(name), open, null);
      out.findings.set(finding.id, finding);
    }
  }
}

/** One invented system judged in memory by the fold and the receive state, reading by reading, as the evaluator does it around a store. */
import type { Alarm } from "#core/alarms/alarm.ts";
import type { Finding } from "#core/alarms/finding.ts";
import type { EvaluatorFacts, StreamFacts } from "#core/evaluate/facts.ts";
import { foldReading } from "#core/evaluate/fold.ts";
import { createFoldContext } from "#core/evaluate/fold-context.ts";
import type { MuteWindow } from "#core/evaluate/mute-windows.ts";
import { emptyOutputs, type FlagRow, type Input } from "#core/evaluate/outputs.ts";
import { emptyEffects, emptyReceiveState, updateAlarms } from "#core/evaluate/receive-state.ts";
import { compileSystem } from "#core/evaluate/settings.ts";
import { addOpenOutputs } from "#core/evaluate/settle.ts";
import { emptyWater, readWater, type WaterState, writeWater } from "#core/evaluate/water-state.ts";
import type { BandEdges, TargetBand } from "#core/habitat/index.ts";
import type { RollupRow } from "#core/quality/rollup.ts";
import type { QuantityId } from "#core/units/quantity.ts";

export const ZONE = "Europe/London";

export const stream = (id: number, quantity: QuantityId, more: Partial<StreamFacts> = {}): StreamFacts => ({
  id,
  system: "pool",
  pointCode: "display",
  pointRole: "exhibit",
  quantity,
  origin: "probe",
  interval: 300_000,
  critical: true,
  ...more,
});

export const band = (quantity: string, edges: Partial<BandEdges>, validFrom = 0): TargetBand => ({
  id: `band-${quantity}-${validFrom}`,
  system: "pool",
  quantity,
  point: null,
  months: [
    {
      low: null,
      high: null,
      actionLow: null,
      actionHigh: null,
      urgentLow: null,
      urgentHigh: null,
      ...edges,
    },
  ],
  validFrom,
  validTo: null,
  recordedAt: validFrom,
  setBy: "test",
  reason: "test",
  source: "invented for the test",
});

export interface Folded {
  readonly findings: readonly Finding[];
  readonly flags: readonly FlagRow[];
  readonly rollups: readonly RollupRow[];
  readonly alarms: readonly Alarm[];
  readonly derived: readonly { readonly stream: number; readonly at: number }[];
  readonly water: WaterState;
}
export type Given = Pick<Input, "stream" | "at" | "value"> & Partial<Input>;

/** `restart` writes and reads the state back at that reading, as a checkpoint does, by way of `change`; `quiet`: what people logged. */
interface Around {
  readonly restart?: { readonly at: number; readonly change: (text: string) => string };
  readonly quiet?: readonly MuteWindow[];
}

type Facts = Partial<EvaluatorFacts> & Pick<EvaluatorFacts, "streams">;

/** The invented system with these streams, and what else is given. */
export const settingsOf = (facts: Facts) =>
  compileSystem({
    system: { id: "pool", water: "marine", volume: 100, youngFilter: false },
    zone: ZONE,
    elevation: 0,
    bands: [],
    plans: [],
    ...facts,
  });

/** Folds readings in order of time. */
export function folded(facts: Facts, given: readonly Given[], { restart, quiet = [] }: Around = {}): Folded {
  const settings = settingsOf(facts);
  const context = createFoldContext(settings);
  const [receiving, effects, out] = [emptyReceiveState(), emptyEffects(), emptyOutputs()];
  receiving.quiet = quiet;
  let water = emptyWater();
  for (const [i, each] of given.entries()) {
    if (restart?.at === i) water = readWater(restart.change(writeWater(water)));
    const input: Input = { received: each.at, mark: null, recorded: false, ...each };
    const before = out.recent.length;
    foldReading(context, water, input, out);
    for (const id of new Set(out.recent.slice(before))) {
      const touched = settings.byId.get(id);
      if (touched) updateAlarms(receiving, settings, touched, water, input.received, effects);
    }
  }
  addOpenOutputs(context, water, out);
  return {
    findings: [...out.findings.values(), ...effects.findings.values()].sort((a, b) => a.raised - b.raised),
    flags: out.flags,
    rollups: out.rollups,
    alarms: [...effects.alarms.values()],
    derived: out.derived,
    water,
  };
}

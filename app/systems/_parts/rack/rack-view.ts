import type { FindingView, StreamState, SystemState, SystemsView } from "#contract/views.ts";
import { roundToFigures } from "#core/units/rounding.ts";
import { RACK_COLUMNS } from "./rack-columns.ts";

/** More figures than any strip or cell can show. */
const FIGURES = 7;
const rounded = (value: number | null): number | null =>
  value === null ? null : roundToFigures(value, FIGURES);

function isShown(stream: StreamState, columns: ReadonlySet<string>): boolean {
  if (stream.critical || stream.standing === "action" || stream.standing === "look") return true;
  return columns.has(stream.quantity);
}

const slim = (stream: StreamState): StreamState => ({
  ...stream,
  value: rounded(stream.value),
  low: rounded(stream.low),
  high: rounded(stream.high),
  deviation: rounded(stream.deviation),
  rate: rounded(stream.rate),
  plan: rounded(stream.plan),
  sweepLow: rounded(stream.sweepLow),
  sweepHigh: rounded(stream.sweepHigh),
});

/** The rack says where a finding is and since when; its evidence stands on the system's own page. */
const named = (finding: FindingView): FindingView => ({ ...finding, evidence: {} });

function forRackOf(system: SystemState): SystemState {
  const columns = new Set(
    RACK_COLUMNS.flatMap((c) => [...c.quantities(system), ...(c.with === undefined ? [] : [c.with])]),
  );
  return {
    ...system,
    residents: [],
    streams: system.streams.filter((stream) => isShown(stream, columns)).map(slim),
    findings: system.findings.map(named),
  };
}

/** What the Systems page is first drawn from: only what the rack shows, in the figures it can show. Live updates bring whole systems. */
export const forRack = (view: SystemsView): SystemsView => ({
  ...view,
  systems: view.systems.map(forRackOf),
});

import type { StreamState, SystemState } from "#contract/views.ts";
import { pointRole } from "#core/set-up/point-role.ts";
import { RACK_COLUMNS } from "../rack/rack-columns.ts";

/** A chart of the System page: one quantity at one point, with its bench results. */
export interface TrendRow {
  readonly key: string;
  readonly main: StreamState;
  readonly bench: StreamState | null;
  /** Percent saturation beside mg/L. */
  readonly with: StreamState | null;
}

const ORIGINS = ["probe", "derived", "equipment", "bench"];

/** Order of the rack first, so that the eye finds a quantity at the same place on both pages; then by name. */
function placeOf(stream: StreamState, system: SystemState): number {
  const at = RACK_COLUMNS.findIndex(
    (c) => c.quantities(system).some((id) => id === stream.quantity) || c.with === stream.quantity,
  );
  return at < 0 ? RACK_COLUMNS.length : at;
}

const isAnimalsWater = ({ main }: TrendRow): boolean => pointRole(main.role).isAnimalsWater;

/** The charts of a system. Oxygen saturation at a point that also has mg/L is said there, and has a chart only if it has a band. */
export function trendRows(system: SystemState): TrendRow[] {
  const groups = new Map<string, StreamState[]>();
  for (const stream of system.streams) {
    if (stream.word !== null || stream.unit === "") continue;
    const key = `${stream.quantity} ${stream.point}`;
    groups.set(key, [...(groups.get(key) ?? []), stream]);
  }
  const rows = [...groups].flatMap(([key, streams]): TrendRow[] => {
    const sorted = [...streams].sort((a, b) => ORIGINS.indexOf(a.origin) - ORIGINS.indexOf(b.origin));
    const main = sorted[0];
    if (main === undefined) return [];
    const bench = main.origin === "bench" ? null : (sorted.find((s) => s.origin === "bench") ?? null);
    const saturation = system.streams.find(
      (s) => s.quantity === "oxygen_saturation" && s.point === main.point,
    );
    return [{ key, main, bench, with: main.quantity === "dissolved_oxygen" ? (saturation ?? null) : null }];
  });
  const said = new Set(rows.flatMap((r) => (r.with !== null && r.with.band === null ? [r.with.stream] : [])));
  return rows
    .filter((r) => !said.has(r.main.stream))
    .sort(
      (a, b) =>
        placeOf(a.main, system) - placeOf(b.main, system) ||
        a.main.label.localeCompare(b.main.label, "en") ||
        Number(isAnimalsWater(b)) - Number(isAnimalsWater(a)) ||
        a.main.point.localeCompare(b.main.point, "en"),
    );
}

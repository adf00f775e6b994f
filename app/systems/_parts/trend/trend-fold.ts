import type { Span } from "#app/_components/drawing/chart-data.ts";
import type { StreamState, SystemState } from "#contract/views.ts";
import { pointRole } from "#core/set-up/point-role.ts";
import type { TrendRow } from "./trend-rows.ts";

const asks = (stream: StreamState): boolean => stream.standing === "action" || stream.standing === "look";

/** Measured for something else: raw conductivity beside its salinity, the meter of the make-up water. */
function isInput(row: TrendRow, system: SystemState): boolean {
  const { quantity, point, role, band } = row.main;
  if (band !== null) return false;
  if (quantity === "make_up_volume" || pointRole(role).water === "make-up") return true;
  return (
    quantity === "conductivity" &&
    system.streams.some(
      (s) => s.point === point && (s.quantity === "salinity" || s.quantity === "specific_conductance"),
    )
  );
}

/**
 * Rows that get a chart over this window, and those that are only named below: nothing was read in it, or they are inputs of another row.
 * Whatever asks for somebody has its chart, and so has what the reader opened.
 */
export function folded(
  rows: readonly TrendRow[],
  system: SystemState,
  span: Span,
  opened: ReadonlySet<string>,
): { readonly charted: readonly TrendRow[]; readonly named: readonly TrendRow[] } {
  const isNamed = (row: TrendRow): boolean => {
    if (opened.has(row.key) || asks(row.main)) return false;
    const newest = Math.max(
      row.main.at ?? Number.NEGATIVE_INFINITY,
      row.bench?.at ?? Number.NEGATIVE_INFINITY,
    );
    return newest < span.from || isInput(row, system);
  };
  return { charted: rows.filter((row) => !isNamed(row)), named: rows.filter(isNamed) };
}

import { seenAs } from "#app/_components/words/standing-words.ts";
import type { StreamState, SystemState } from "#contract/views.ts";
import { rankOf } from "#core/alarms/standing.ts";
import { type PointTrait, pointRole } from "#core/set-up/point-role.ts";
import type { QuantityId } from "#core/units/index.ts";

/** A column of the rack: the quantities that may stand in it, best first, and the roles of points that are meant first. */
export interface RackColumn {
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  /** Unit of the head; a value in another unit carries its own. */
  readonly unitLabel: string;
  readonly quantities: (system: SystemState) => readonly QuantityId[];
  readonly points: readonly PointTrait[];
  /** A second quantity of the same water that is always said with the first. */
  readonly with?: QuantityId;
}

const only =
  (...quantities: QuantityId[]) =>
  () =>
    quantities;

export const RACK_COLUMNS: readonly RackColumn[] = [
  {
    id: "temperature",
    label: "Temperature",
    unit: "°C",
    unitLabel: "°C",
    quantities: only("temperature"),
    points: ["isAnimalsWater"],
  },
  {
    id: "salinity",
    label: "Salinity",
    unit: "or µS/cm",
    unitLabel: "",
    quantities: (system) =>
      system.water === "fresh" ? ["specific_conductance", "salinity"] : ["salinity", "specific_conductance"],
    points: ["isAnimalsWater"],
  },
  { id: "ph", label: "pH", unit: "", unitLabel: "", quantities: only("ph"), points: ["isAnimalsWater"] },
  {
    id: "oxygen",
    label: "Oxygen",
    unit: "mg/L and %",
    unitLabel: "mg/L",
    quantities: only("dissolved_oxygen", "oxygen_saturation"),
    points: ["isAnimalsWater"],
    with: "oxygen_saturation",
  },
  {
    id: "orp",
    label: "ORP",
    unit: "mV, display / contact",
    unitLabel: "mV",
    quantities: only("orp"),
    points: ["isAnimalsWater", "followsOzoneController"],
  },
  {
    id: "unionised_ammonia",
    label: "NH₃-N",
    unit: "mg/L",
    unitLabel: "mg/L as N",
    quantities: only("unionised_ammonia"),
    points: ["isAnimalsWater"],
  },
  {
    id: "total_gas_pressure",
    label: "Gas pressure",
    unit: "% of saturation",
    unitLabel: "%",
    quantities: only("total_gas_pressure"),
    points: ["isAnimalsWater"],
  },
  {
    id: "flow",
    label: "Flow",
    unit: "m³/h",
    unitLabel: "m³/h",
    quantities: only("flow"),
    points: ["isAnimalsWater", "showsLevel"],
  },
  {
    id: "level",
    label: "Sump level",
    unit: "mm",
    unitLabel: "mm",
    quantities: only("level"),
    points: ["showsLevel"],
  },
];

/** What one cell shows: the stream with the strip, its second quantity, the other points, and the worst of them. */
export interface RackCell {
  readonly main: StreamState;
  readonly with: StreamState | null;
  /** The contact chamber's ORP, said after a slash and drawn hollow. */
  readonly beside: StreamState | null;
  readonly others: readonly StreamState[];
  readonly worst: StreamState;
}

const ORIGINS = ["probe", "derived", "equipment", "bench"];
const order = (list: readonly string[], id: string): number => {
  const at = list.indexOf(id);
  return at < 0 ? list.length : at;
};
const placeIn = (column: RackColumn, stream: StreamState): number => {
  const at = column.points.findIndex((trait) => pointRole(stream.role)[trait]);
  return at < 0 ? column.points.length : at;
};
const isOzonated = (stream: StreamState): boolean => pointRole(stream.role).followsOzoneController;
/** Only what wants a person pushes ahead of the usual point: a silent twin must not hide the display. */
const urgency = (stream: StreamState): number => Math.min(rankOf(stream.standing), rankOf("unknown"));

/** The cell of a system in a column; null where it has no such probe. A point in trouble is shown before the usual one. */
export function rackCell(system: SystemState, column: RackColumn): RackCell | null {
  const quantities: readonly string[] = column.quantities(system);
  const candidates = system.streams
    .filter((s) => quantities.includes(s.quantity))
    .sort(
      (a, b) =>
        order(quantities, a.quantity) - order(quantities, b.quantity) ||
        urgency(a) - urgency(b) ||
        order(ORIGINS, a.origin) - order(ORIGINS, b.origin) ||
        placeIn(column, a) - placeIn(column, b) ||
        a.point.localeCompare(b.point, "en"),
    );
  const main = candidates[0];
  if (main === undefined) return null;
  const same = candidates.filter((s) => s !== main && s.quantity === main.quantity && s.origin !== "bench");
  const second =
    column.with === undefined || column.with === main.quantity
      ? undefined
      : (system.streams.find((s) => s.quantity === column.with && s.point === main.point) ??
        system.streams.find((s) => s.quantity === column.with));
  const beside = column.id === "orp" && !isOzonated(main) ? same.find(isOzonated) : undefined;
  const others = same.filter((s) => s !== beside);
  const all = [main, ...(second === undefined ? [] : [second]), ...same];
  const worst = all.reduce((a, b) => (rankOf(b.standing) < rankOf(a.standing) ? b : a));
  return { main, with: second ?? null, beside: beside ?? null, others, worst };
}

/**
 * Streams that no cell shows and that are not as they should be (equipment, bench results, quantities without a column):
 * they stand under the system's name, or nobody would see why it asks for somebody.
 */
export function elsewhere(system: SystemState, cells: readonly (RackCell | null)[]): StreamState[] {
  const shown = new Set(
    cells.flatMap((cell) => (cell === null ? [] : [cell.main, cell.with, cell.beside, ...cell.others])),
  );
  return system.streams
    .filter((s) => !shown.has(s))
    .filter((s) => s.standing === "action" || s.standing === "look" || (s.critical && seenAs(s) !== "calm"))
    .sort((a, b) => rankOf(a.standing) - rankOf(b.standing));
}

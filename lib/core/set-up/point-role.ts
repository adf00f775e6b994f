/** What a point is for, and what depends on it. Rules ask for these properties, never for a point's name. */

/** Which water is measured at a point: the system's own, what fills it up, a loop's beside it, or none. */
export type WaterThere = "system" | "make-up" | "loop" | "none";

export interface PointRoleSpec {
  readonly label: string;
  /** What belongs there, for who chooses. */
  readonly hint: string;
  readonly water: WaterThere;
  /** The water the animals live in: it speaks for the system where no point is named, and its bands follow the residents. */
  readonly isAnimalsWater: boolean;
  /** ORP there goes up and down with the ozone: no limit on its rate, and low after a feed is no alarm. */
  readonly followsOzoneController: boolean;
  /** Where water missing from the whole system, or too much of it, shows as a level. */
  readonly showsLevel: boolean;
  /** Water in or just behind a filter, which may go without oxygen while the rest does not. */
  readonly isAtFilter: boolean;
}
/** A property of a role that is there or not. */
export type PointTrait = "isAnimalsWater" | "followsOzoneController" | "showsLevel" | "isAtFilter";

const role = (
  label: string,
  hint: string,
  water: WaterThere = "system",
  trait?: PointTrait,
): PointRoleSpec => ({
  label,
  hint,
  water,
  isAnimalsWater: trait === "isAnimalsWater",
  followsOzoneController: trait === "followsOzoneController",
  showsLevel: trait === "showsLevel",
  isAtFilter: trait === "isAtFilter",
});

export const POINT_ROLES = {
  exhibit: role("Exhibit", "the water the animals live in", "system", "isAnimalsWater"),
  sump: role("Sump", "its level shows what the whole system gains or loses", "system", "showsLevel"),
  filter: role("Filter", "in a filter or at its outlet", "system", "isAtFilter"),
  "contact-chamber": role(
    "Contact chamber",
    "where ozone meets the water; ORP there follows the ozone controller",
    "system",
    "followsOzoneController",
  ),
  "make-up": role("Make-up", "new water, before it is in the system", "make-up"),
  "loop-supply": role("Loop supply", "a chilled or heated loop, on its way to the system", "loop"),
  "loop-return": role("Loop return", "a chilled or heated loop, on its way back", "loop"),
  "plant-room": role("Plant room", "sample lines, panels and the barometer in the plant room"),
  "room-air": role("Room air", "air of the hall or the plant room, no water", "none"),
  equipment: role("Equipment", "a pump, float, valve, chiller or heater"),
  other: role("Other", "anywhere else in the system's water"),
} as const satisfies Record<string, PointRoleSpec>;

export type PointRole = keyof typeof POINT_ROLES;
export const POINT_ROLE_IDS = Object.keys(POINT_ROLES) as [PointRole, ...PointRole[]];

/** What depends on a role. */
export const pointRole = (id: PointRole): PointRoleSpec => POINT_ROLES[id];

/** First word that fits decides; "contact-sump" is a contact chamber. */
const NAMES: readonly (readonly [RegExp, PointRole])[] = [
  [/contact/, "contact-chamber"],
  [/make-?up/, "make-up"],
  [/sump/, "sump"],
  [/filter/, "filter"],
  [/(loop|chilled|heated).*supply/, "loop-supply"],
  [/(loop|chilled|heated).*return/, "loop-return"],
  [/plant-?room/, "plant-room"],
  [/(^|-)air($|-)/, "room-air"],
  [/(^|-)(pump|float|valve|chiller|heater|uv)s?($|-)/, "equipment"],
  [/(^|-)(display|exhibit)/, "exhibit"],
];

/**
 * A guess at what a point is for from its short name, where nobody has said: "contact-chamber" is a contact chamber, "outlet-2" is other.
 * Whoever stores it says with it that it is a guess.
 */
export const guessedRole = (name: string): PointRole =>
  NAMES.find(([spelling]) => spelling.test(name))?.[1] ?? "other";

interface Place {
  readonly code: string;
  readonly role: PointRole;
  readonly twinOf: string | null;
}
const byText = (a: string, b: string) => (a < b ? -1 : Number(a > b));

/** The point that is meant where none is named: the first exhibit by short name, a second probe's last; undefined where there is none. */
export const mainPoint = <P extends Place>(points: readonly P[]): P | undefined =>
  points
    .filter((point) => pointRole(point.role).isAnimalsWater)
    .sort((a, b) => Number(a.twinOf !== null) - Number(b.twinOf !== null) || byText(a.code, b.code))[0];

/** Where a stream is measured. */
export interface Measured {
  readonly id: number;
  readonly pointCode: string;
  readonly pointRole: PointRole;
}
/** How far a stream is from a point, for sorting: at the point itself 0, in the animals' water 1, elsewhere 2. */
export const distanceFrom = (pointCode: string | null, stream: Omit<Measured, "id">): number =>
  stream.pointCode === pointCode ? 0 : pointRole(stream.pointRole).isAnimalsWater ? 1 : 2;

/** Streams nearest to a point first; of exhibits the first by short name, then by number. */
export function nearestFirst<S extends Measured>(pointCode: string | null, streams: readonly S[]): S[] {
  const name = (a: S, b: S) => (distanceFrom(pointCode, a) === 1 ? byText(a.pointCode, b.pointCode) : 0);
  return [...streams].sort(
    (a, b) => distanceFrom(pointCode, a) - distanceFrom(pointCode, b) || name(a, b) || a.id - b.id,
  );
}

/** What a point is for, and what depends on it. Rules ask for these properties, never for a point's name. */

/** Which water is measured at a point: the system's own, what fills it up, a loop's beside it, or none. */
export type WaterThere = "system" | "make-up" | "loop" | "none";

export interface PointRoleSpec {
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

const role = (water: WaterThere = "system", trait?: PointTrait): PointRoleSpec => ({
  water,
  isAnimalsWater: trait === "isAnimalsWater",
  followsOzoneController: trait === "followsOzoneController",
  showsLevel: trait === "showsLevel",
  isAtFilter: trait === "isAtFilter",
});

export const POINT_ROLES = {
  exhibit: role("system", "isAnimalsWater"),
  sump: role("system", "showsLevel"),
  filter: role("system", "isAtFilter"),
  "contact-chamber": role("system", "followsOzoneController"),
  "make-up": role("make-up"),
  "loop-supply": role("loop"),
  "loop-return": role("loop"),
  "plant-room": role(),
  "room-air": role("none"),
  equipment: role(),
  other: role(),
} as const satisfies Record<string, PointRoleSpec>;

export type PointRole = keyof typeof POINT_ROLES;
export const POINT_ROLE_IDS = Object.keys(POINT_ROLES) as [PointRole, ...PointRole[]];

/** What depends on a role. */
export const pointRole = (id: PointRole): PointRoleSpec => POINT_ROLES[id];

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

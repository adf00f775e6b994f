/** What is set up: buildings, systems, points, streams, targets and who lives there. Instants are UTC milliseconds. */
import type { TargetBand } from "../habitat/band.ts";
import type { PlanShape } from "../habitat/plan.ts";
import type { Stay } from "../habitat/residents.ts";
import type { StartingBands } from "../habitat/type-defaults.ts";
import type { Instant } from "../time/instant.ts";
import type { PointRole } from "./point-role.ts";
import type { ProbeBasis } from "./probe-basis.ts";
import type { SystemType } from "./system-type.ts";

export type Origin = "probe" | "bench" | "equipment" | "derived";
export type WaterType = "fresh" | "brackish" | "marine";
export type SourceKind = "gateway" | "history" | "import" | "token" | "bench";

export interface Site {
  readonly id: string;
  readonly code: string;
  readonly name: string;
  /** IANA zone. */
  readonly zone: string;
  /** Degrees north, degrees east, metres above sea level. */
  readonly latitude: number;
  readonly longitude: number;
  readonly elevation: number;
}
export interface System {
  readonly id: string;
  readonly site: string;
  /** Short name, unique across sites; used in topics and URLs. */
  readonly code: string;
  readonly name: string;
  /** What people call it, in plain words, e.g. "temperate marine, sharks"; nothing is decided by it. */
  readonly kind: string;
  readonly type: SystemType;
  /** Which bands it starts with where no resident's profile speaks; null: none. */
  readonly startingBands: StartingBands | null;
  readonly water: WaterType;
  /** Cubic metres. */
  readonly volume: number;
  /** Duty flow in m3/h, null where not known. */
  readonly duty: number | null;
  readonly opened: Instant;
  readonly closed: Instant | null;
  /** TAN results are carried 24 h instead of 7 days (quarantine, young filter). */
  readonly youngFilter: boolean;
}
export interface Point {
  readonly id: string;
  readonly system: string;
  readonly code: string;
  readonly role: PointRole;
  /** Nobody has chosen the role: it was guessed from the short name. */
  readonly roleGuessed: boolean;
  readonly twinOf: string | null;
}
export interface Stream {
  readonly id: number;
  readonly system: string;
  readonly point: string;
  readonly pointCode: string;
  readonly pointRole: PointRole;
  /** As stored: one that left the registry too (see `isKnownStream`). */
  readonly quantity: string;
  readonly origin: Origin;
  /** Expected milliseconds between readings; null = not scheduled, never silent. */
  readonly interval: number | null;
  readonly critical: boolean;
  /** Of a pH or ORP probe: what its numbers stand on, oldest first; left out where nobody has said. */
  readonly basis?: readonly ProbeBasis[];
}
export interface Source {
  readonly id: number;
  readonly code: string;
  readonly kind: SourceKind;
}
export interface Loop {
  readonly id: string;
  readonly site: string;
  readonly code: string;
  readonly name: string;
  readonly members: readonly string[];
}

/** A signed course that a quantity is meant to follow; rates and bands are judged against it. */
export interface Plan {
  readonly id: string;
  readonly system: string;
  readonly quantity: string;
  readonly shape: PlanShape;
  readonly validFrom: Instant;
  readonly validTo: Instant | null;
  readonly setBy: string;
  readonly reason: string;
}
/** A stay with the name of its species. */
export interface Resident extends Stay {
  readonly speciesName: string;
}
/** Everything that is set up, as the evaluator and the pages read it. */
export interface SetUp {
  readonly sites: readonly Site[];
  readonly loops: readonly Loop[];
  readonly systems: readonly System[];
  readonly points: readonly Point[];
  readonly streams: readonly Stream[];
  readonly sources: readonly Source[];
  readonly bands: readonly TargetBand[];
  readonly plans: readonly Plan[];
  readonly residents: readonly Resident[];
}

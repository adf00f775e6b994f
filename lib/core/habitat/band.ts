import { inForce } from "../time/in-force.ts";
import type { Instant } from "../time/instant.ts";
import { type MonthBracket, monthBracket } from "../time/site-time.ts";
import type { Stage } from "./profile.ts";

/** Edges of a target band and its limits in the quantity's unit; null = open on that side. */
export interface BandEdges {
  readonly low: number | null;
  readonly high: number | null;
  readonly actionLow: number | null;
  readonly actionHigh: number | null;
  readonly urgentLow: number | null;
  readonly urgentHigh: number | null;
}
/** The range that animals of one species and stage ask for in a month; null = open on that side. */
export interface ResidentRange {
  readonly species: string;
  readonly stage: Stage;
  readonly low: number | null;
  readonly high: number | null;
}
/** The edges in the middle of a month. */
export interface BandMonth extends BandEdges {
  /** The residents' ranges in a month in which they have none in common and nobody signed a compromise: the edges are then no target. */
  readonly noCommonRange?: readonly ResidentRange[];
}
/** A band as set by a person, from an instant on; one entry for all year or twelve mid-month ones. */
export interface TargetBand {
  readonly id: string;
  readonly system: string;
  readonly quantity: string;
  /** A point's code, or null for every point of the system that has no band of its own. */
  readonly point: string | null;
  readonly months: readonly BandMonth[];
  readonly validFrom: Instant;
  readonly validTo: Instant | null;
  readonly recordedAt: Instant;
  readonly setBy: string;
  readonly reason: string;
  readonly source: string;
  /** Left out: a person typed it. */
  readonly origin?: BandOrigin;
  /** Who confirmed its limits, where it follows the residents; left out: nobody yet, or a person typed it. */
  readonly confirmedBy?: string;
}
/** What a band follows: a person's own numbers, the residents' profiles, or the type of system. */
export type BandOrigin = "person" | "residents" | "type";

const KEYS = ["low", "high", "actionLow", "actionHigh", "urgentLow", "urgentHigh"] as const;
export const NO_EDGES: BandEdges = {
  low: null,
  high: null,
  actionLow: null,
  actionHigh: null,
  urgentLow: null,
  urgentHigh: null,
};

/** Mid-month edges run linearly to the next; an edge that one of the two months leaves open is open between them. */
export function edgesWithin(months: readonly BandEdges[], at: Instant, bracket: MonthBracket): BandEdges {
  const before = months[bracket.before] ?? NO_EDGES;
  const after = months[bracket.after] ?? NO_EDGES;
  const share = (at - bracket.start) / (bracket.end - bracket.start);
  const edges: Record<(typeof KEYS)[number], number | null> = { ...NO_EDGES };
  for (const key of KEYS) {
    const a = before[key];
    const b = after[key];
    edges[key] = a === null || b === null ? null : a + (b - a) * share;
  }
  return edges;
}

/**
 * The edges in force at an instant: monthly values hold at mid-month (the 15th, site time) and run linearly between.
 * Throws RangeError unless there are 1 or 12 months.
 */
export function edgesAt(months: readonly BandEdges[], at: Instant, zone: string): BandEdges {
  const only = months[0];
  if (months.length === 1 && only) return only;
  if (months.length !== 12) throw new RangeError(`a band has 1 or 12 months, not ${months.length}`);
  return edgesWithin(months, at, monthBracket(at, zone));
}

/**
 * The band in force for a quantity at a point: one set for the point comes before one for the whole system; of several in force
 * the one that began last, then the one recorded last. Undefined where none is set.
 */
export function bandFor(
  bands: readonly TargetBand[],
  system: string,
  quantity: string,
  point: string,
  at: Instant,
): TargetBand | undefined {
  const own = bands.filter((band) => band.system === system && band.quantity === quantity);
  const ofPoint = own.filter((band) => band.point === point);
  return (
    inForce(ofPoint, at) ??
    inForce(
      own.filter((band) => band.point === null),
      at,
    )
  );
}

/** The edges of the band in force for a quantity at a point, at a site's instant; null where none is set. */
export function edgesFor(
  {
    bands,
    system,
    site,
  }: {
    readonly bands: readonly TargetBand[];
    readonly system: { readonly id: string };
    readonly site: { readonly zone: string };
  },
  quantity: string,
  point: string,
  at: Instant,
): BandEdges | null {
  const band = bandFor(bands, system.id, quantity, point, at);
  return band ? edgesAt(band.months, at, site.zone) : null;
}

/** What is wrong with one edge of those a person typed. */
export interface EdgeFault {
  readonly edge: keyof BandEdges;
  readonly says: string;
}

/** What is wrong with edges a person typed, each at the edge to correct; empty when they are sound. Limits lie strictly beyond edges, urgent beyond action. */
export function faultsAt(edges: BandEdges): EdgeFault[] {
  const faults: EdgeFault[] = [];
  const add = (edge: keyof BandEdges, says: string) => faults.push({ edge, says });
  const reaches = (a: number | null, b: number | null) => a !== null && b !== null && a >= b;
  const { low, high, actionLow, actionHigh, urgentLow, urgentHigh } = edges;
  if (reaches(low, high)) add("low", `low ${low} must be below high ${high}`);
  if (reaches(actionLow, low))
    add("actionLow", `action limit ${actionLow} must be below the low edge ${low}`);
  if (reaches(high, actionHigh))
    add("actionHigh", `action limit ${actionHigh} must be above the high edge ${high}`);
  if (reaches(urgentLow, actionLow))
    add("urgentLow", `urgent limit ${urgentLow} must be below the action limit ${actionLow}`);
  if (reaches(actionHigh, urgentHigh))
    add("urgentHigh", `urgent limit ${urgentHigh} must be above the action limit ${actionHigh}`);
  if (actionLow !== null && low === null) add("low", "an action limit below needs a low edge");
  if (actionHigh !== null && high === null) add("high", "an action limit above needs a high edge");
  return faults;
}

/** The same in words alone. */
export const faultsOf = (edges: BandEdges): string[] => faultsAt(edges).map((fault) => fault.says);

/**
 * The composite band of a system: what range of a quantity its residents have in common, month by month, who sets each edge, and where
 * they have none. Pure; nothing is averaged over animals and nothing is weighted.
 */

import type { Instant } from "../time/instant.ts";
import { forQuantity, type QuantityId } from "../units/quantity.ts";
import type { BandEdges } from "./band.ts";
import { type Compromise, covers } from "./compromise.ts";
import { rangesIn } from "./monthly.ts";
import {
  type EntryKind,
  entriesFor,
  type Profile,
  type ProfileEntry,
  profileFor,
  type Stage,
} from "./profile.ts";
import { type Meanwhile, meanwhileIn } from "./ranges-apart.ts";
import type { Stay } from "./residents.ts";

/** An edge or limit with the animals and the entry it comes from. */
export interface EdgeOrigin {
  readonly value: number;
  readonly species: string;
  readonly stage: Stage;
  /** Stays whose animals ask for it. */
  readonly stays: readonly string[];
  readonly profile: string;
  readonly kind: EntryKind;
  readonly source: string;
  readonly mark: ProfileEntry["mark"];
  readonly confidence: ProfileEntry["confidence"];
  /** The value was run linearly between two months that have one. */
  readonly between: boolean;
}
/** Where an action limit comes from: a margin beyond the edge, a value animals were seen to bear, the type, or a signed compromise. */
export type LimitOrigin = { readonly value: number } & (
  | { readonly from: "margin"; readonly margin: number }
  | { readonly from: "tolerated" | "lethal"; readonly origin: EdgeOrigin }
  | { readonly from: "compromise" }
);
export interface Conflict {
  /** High of the one less low of the other, below 0 or 0: units that are missing, as a positive number. */
  readonly gap: number;
  readonly low: EdgeOrigin;
  readonly high: EdgeOrigin;
}
export interface CompositeMonth {
  /** 1 to 12. */
  readonly month: number;
  readonly low: EdgeOrigin | null;
  readonly high: EdgeOrigin | null;
  readonly actionLow: LimitOrigin | null;
  readonly actionHigh: LimitOrigin | null;
  /** No value suits everybody this month. */
  readonly conflict: Conflict | null;
  /** Signed for this conflict. */
  readonly compromise: Compromise | null;
  /** What is judged while no range is common and nobody signed; null in any other month. */
  readonly meanwhile: Meanwhile | null;
  /** What the residents ask for; null where no range is common and nobody signed, or nothing is known. */
  readonly edges: BandEdges | null;
}
export interface Composite {
  readonly quantity: string;
  readonly months: readonly CompositeMonth[];
  /** Stays with at least one preferred or advised range for the quantity, and those without. */
  readonly known: readonly string[];
  readonly unknown: readonly string[];
}

const SETS_EDGES: readonly EntryKind[] = ["preferred", "advice"];
const BOUNDS: readonly EntryKind[] = ["tolerated", "lethal"];

/** How far beyond its edge an action limit lies where nothing nearer is known: 2 Cel, 2 of salinity. Common practice, no source; of the others none is known, and none is guessed. */
const MARGINS: Partial<Record<QuantityId, number>> = { temperature: 2, salinity: 2 };
export const marginOf = (quantity: string): number | null => forQuantity(MARGINS, quantity) ?? null;

interface Claim {
  readonly low: EdgeOrigin | null;
  readonly high: EdgeOrigin | null;
}

/** Animals of one species, population and stage claim the same: one claim with all their stays. */
function kindred(stays: readonly Stay[]): Stay[][] {
  const groups = new Map<string, Stay[]>();
  for (const stay of stays) {
    const key = `${stay.species}\u0000${stay.population ?? ""}\u0000${stay.stage}`;
    groups.set(key, [...(groups.get(key) ?? []), stay]);
  }
  return [...groups.values()];
}

function claimsOf(
  stays: readonly Stay[],
  profiles: readonly Profile[],
  quantity: string,
  month: number,
  kinds: readonly EntryKind[],
): Claim[] {
  return kindred(stays).flatMap((group) => {
    const [first] = group;
    if (!first) return [];
    const profile = profileFor(profiles, first.species, first.population);
    if (!profile) return [];
    const ids = group.map((stay) => stay.id);
    return rangesIn(entriesFor(profile, quantity, first.stage, kinds), month).map((range): Claim => {
      const origin = (value: number | null): EdgeOrigin | null =>
        value === null
          ? null
          : {
              value,
              species: first.species,
              stage: first.stage,
              stays: ids,
              profile: profile.id,
              kind: range.entry.kind,
              source: range.entry.source,
              mark: range.entry.mark,
              confidence: range.entry.confidence,
              between: range.between !== null,
            };
      return { low: origin(range.low), high: origin(range.high) };
    });
  });
}

const present = <T>(value: T | null): value is T => value !== null;
const extreme = (origins: readonly EdgeOrigin[], sign: 1 | -1): EdgeOrigin | null =>
  origins.reduce<EdgeOrigin | null>(
    (best, each) => (best && sign * best.value >= sign * each.value ? best : each),
    null,
  );

function limit(
  side: "low" | "high",
  edge: number | null,
  quantity: string,
  bounds: readonly Claim[],
): LimitOrigin | null {
  if (edge === null) return null;
  const outward = side === "high" ? 1 : -1;
  const margin = marginOf(quantity);
  const candidates: LimitOrigin[] = bounds.flatMap((claim): LimitOrigin[] => {
    const origin = claim[side];
    // A bound that lies inside what the same animals are advised to have says nothing about a limit beyond it.
    if (!origin || outward * (origin.value - edge) <= 0) return [];
    return [{ value: origin.value, from: origin.kind === "lethal" ? "lethal" : "tolerated", origin }];
  });
  if (margin !== null) candidates.push({ value: edge + outward * margin, from: "margin", margin });
  return candidates.reduce<LimitOrigin | null>(
    (nearest, each) => (nearest && outward * nearest.value <= outward * each.value ? nearest : each),
    null,
  );
}

function compositeMonth(
  quantity: string,
  month: number,
  stays: readonly Stay[],
  profiles: readonly Profile[],
  compromises: readonly Compromise[],
  at: Instant,
): CompositeMonth {
  const claims = claimsOf(stays, profiles, quantity, month, SETS_EDGES);
  const low = extreme(claims.map((claim) => claim.low).filter(present), 1);
  const high = extreme(claims.map((claim) => claim.high).filter(present), -1);
  const bounds = claimsOf(stays, profiles, quantity, month, BOUNDS);
  const conflict = low && high && low.value >= high.value ? { gap: low.value - high.value, low, high } : null;
  if (!conflict) {
    const actionLow = limit("low", low?.value ?? null, quantity, bounds);
    const actionHigh = limit("high", high?.value ?? null, quantity, bounds);
    const edges = low || high ? edgesOf(low?.value, high?.value, actionLow, actionHigh) : null;
    return {
      month,
      low,
      high,
      actionLow,
      actionHigh,
      conflict: null,
      compromise: null,
      meanwhile: null,
      edges,
    };
  }
  const signed = compromises
    .filter((each) => each.quantity === quantity && covers(each, conflict, month, at))
    .reduce<Compromise | null>((best, each) => (best && best.signedAt > each.signedAt ? best : each), null);
  if (!signed)
    return {
      month,
      low,
      high,
      actionLow: null,
      actionHigh: null,
      conflict,
      compromise: null,
      meanwhile: meanwhileIn(
        claims,
        conflict,
        (side, edge) => limit(side, edge, quantity, bounds)?.value ?? null,
      ),
      edges: null,
    };
  const limitOf = (side: "low" | "high", typed: number | null): LimitOrigin | null =>
    typed === null ? limit(side, signed[side], quantity, []) : { value: typed, from: "compromise" };
  const actionLow = limitOf("low", signed.actionLow);
  const actionHigh = limitOf("high", signed.actionHigh);
  const edges = edgesOf(signed.low, signed.high, actionLow, actionHigh);
  return { month, low, high, actionLow, actionHigh, conflict, compromise: signed, meanwhile: null, edges };
}

const edgesOf = (
  low: number | undefined,
  high: number | undefined,
  actionLow: LimitOrigin | null,
  actionHigh: LimitOrigin | null,
): BandEdges => ({
  low: low ?? null,
  high: high ?? null,
  actionLow: actionLow?.value ?? null,
  actionHigh: actionHigh?.value ?? null,
  urgentLow: null,
  urgentHigh: null,
});

/**
 * The composite of one quantity for the animals of one system at an instant (it decides which compromises are in force): for each of twelve
 * mid-months the highest low and the lowest high among the preferred and advised ranges of the residents' profiles for their stage, in
 * the quantity's unit. Low at or above high is a conflict. Action limits lie a margin beyond the edge, or at a tolerated or lethal value
 * that is nearer. Ambient and used entries never set an edge. `stays` are those of one system at that instant.
 */
export function composite(
  quantity: string,
  stays: readonly Stay[],
  profiles: readonly Profile[],
  compromises: readonly Compromise[],
  at: Instant,
): Composite {
  const months = Array.from({ length: 12 }, (_, i) =>
    compositeMonth(quantity, i + 1, stays, profiles, compromises, at),
  );
  const isKnown = (stay: Stay): boolean => {
    const profile = profileFor(profiles, stay.species, stay.population);
    return profile !== undefined && entriesFor(profile, quantity, stay.stage, SETS_EDGES).length > 0;
  };
  return {
    quantity,
    months,
    known: stays.filter(isKnown).map((stay) => stay.id),
    unknown: stays.filter((stay) => !isKnown(stay)).map((stay) => stay.id),
  };
}

/** Quantities for which at least one of the stays has a preferred or advised range. */
export function coveredQuantities(stays: readonly Stay[], profiles: readonly Profile[]): string[] {
  const covered = new Set<string>();
  for (const stay of stays) {
    const profile = profileFor(profiles, stay.species, stay.population);
    for (const entry of profile?.entries ?? [])
      if (
        !covered.has(entry.quantity) &&
        profile &&
        entriesFor(profile, entry.quantity, stay.stage, SETS_EDGES).length > 0
      )
        covered.add(entry.quantity);
  }
  return [...covered].sort();
}

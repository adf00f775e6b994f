/**
 * Which band a system keeps to while it follows its residents. What the residents ask for moves the target at once; the action limits, which
 * ring, stay as they stand until a person has confirmed the new ones: neither tighter ones nor looser ones come in by themselves.
 */
import { type BandEdges, type BandMonth, faultsOf, NO_EDGES } from "./band.ts";
import type { Meanwhile } from "./ranges-apart.ts";

const KEYS = ["low", "high", "actionLow", "actionHigh", "urgentLow", "urgentHigh"] as const;
const ranges = ({ noCommonRange }: BandMonth): string => JSON.stringify(noCommonRange ?? null);
export const sameEdges = (a: BandMonth, b: BandMonth): boolean =>
  KEYS.every((key) => a[key] === b[key]) && ranges(a) === ranges(b);
const isOpen = (edges: BandEdges): boolean => KEYS.every((key) => edges[key] === null);

export interface FollowedMonths {
  /** Twelve, or one where all are the same. */
  readonly months: readonly BandMonth[];
  /** Months (1 to 12) in which what the residents ask for is not wholly in force: a person has to confirm or sign. */
  readonly awaits: readonly number[];
}

/** A side's edge moves as far as the limit that stands allows; past it only with a person's confirmation. */
function edgeOf(side: "low" | "high", standing: BandEdges, asked: BandEdges): number | null {
  const limit = side === "low" ? standing.actionLow : standing.actionHigh;
  const edge = asked[side];
  if (limit === null) return edge;
  if (edge === null) return standing[side];
  return (side === "low" ? edge > limit : edge < limit) ? edge : standing[side];
}

/** An edge lies just inside its limit where there is no target: nothing is out of a band that is not about to harm. */
const INSIDE = 0.05;

/** A limit that stands goes on ringing only where it is the nearer one and does not drive the water past what the other side asks for. */
function limitsInConflict(standing: BandEdges, { actionLow, actionHigh, asksLow, asksHigh }: Meanwhile) {
  const stood = {
    low: standing.actionLow !== null && standing.actionLow < asksHigh ? standing.actionLow : null,
    high: standing.actionHigh !== null && standing.actionHigh > asksLow ? standing.actionHigh : null,
  };
  const low = Math.max(actionLow ?? Number.NEGATIVE_INFINITY, stood.low ?? Number.NEGATIVE_INFINITY);
  const high = Math.min(actionHigh ?? Number.POSITIVE_INFINITY, stood.high ?? Number.POSITIVE_INFINITY);
  const finite = (value: number) => (Number.isFinite(value) ? value : null);
  return low < high ? { low: finite(low), high: finite(high) } : { low: actionLow, high: actionHigh };
}

/** The month of animals that have nothing in common and for whom nobody signed: no target, and limits where somebody comes to harm. */
function conflictMonth(standing: BandEdges, meanwhile: Meanwhile): BandMonth {
  const { low, high } = limitsInConflict(standing, meanwhile);
  const inset = low !== null && high !== null ? Math.min(INSIDE, (high - low) / 4) : INSIDE;
  return {
    ...NO_EDGES,
    low: low === null ? null : low + inset,
    high: high === null ? null : high - inset,
    actionLow: low,
    actionHigh: high,
    noCommonRange: meanwhile.ranges,
  };
}

function keptMonth(
  { noCommonRange: _over, ...standing }: BandMonth,
  asked: BandEdges | null,
  isSigned: boolean,
  meanwhile: Meanwhile | null,
): BandMonth {
  if (asked === null) return meanwhile === null ? standing : conflictMonth(standing, meanwhile);
  if (isSigned) return asked;
  if (isOpen(standing)) return { ...NO_EDGES, low: asked.low, high: asked.high };
  const kept: BandEdges = {
    ...standing,
    low: edgeOf("low", standing, asked),
    high: edgeOf("high", standing, asked),
  };
  // What neither fits inside the limits that stand nor has a low below its high comes in only whole, and signed.
  return faultsOf(kept).length > 0 ? standing : kept;
}

const monthsOf = (months: readonly BandMonth[]): readonly BandMonth[] =>
  months.length === 12 ? months : Array.from({ length: 12 }, () => months[0] ?? NO_EDGES);

/** One where all twelve are the same, else twelve. */
export function shortened(months: readonly BandMonth[]): readonly BandMonth[] {
  const [first] = months;
  return first && months.every((each) => sameEdges(each, first)) ? [first] : months;
}

/**
 * The months a system keeps to when its residents ask for `asked` (twelve; null where they have nothing in common and nobody signed) and
 * `standing` (one or twelve, empty: none) held before. `signed`: months (1 to 12)
 * whose limits a person has confirmed now. `meanwhile`: what is judged in the months that are null.
 */
export function keepTo(
  standing: readonly BandMonth[],
  asked: readonly (BandEdges | null)[],
  signed: readonly number[],
  meanwhile: readonly (Meanwhile | null)[] = [],
): FollowedMonths {
  const before = monthsOf(standing);
  const months = before.map((each, i) =>
    keptMonth(each, asked[i] ?? null, signed.includes(i + 1), meanwhile[i] ?? null),
  );
  const monthsAwaitingConfirmation = months.flatMap((each, i) => {
    const wanted = asked[i] ?? null;
    return wanted === null || !sameEdges(each, wanted) ? [i + 1] : [];
  });
  return { months: shortened(months), awaits: monthsAwaitingConfirmation };
}

/** Whether two lists of months (one or twelve each) say the same; a month that asks for nothing equals none that does. */
export function sameMonths(a: readonly (BandEdges | null)[], b: readonly (BandEdges | null)[]): boolean {
  const at = (months: readonly (BandEdges | null)[], i: number) =>
    (months.length === 12 ? months[i] : months[0]) ?? null;
  return Array.from({ length: 12 }, (_, i) => i).every((i) => {
    const [one, other] = [at(a, i), at(b, i)];
    return one === null || other === null ? one === other : sameEdges(one, other);
  });
}

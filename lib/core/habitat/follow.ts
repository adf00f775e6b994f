/**
 * Which band a system keeps to while it follows its residents. What the residents ask for moves the target at once; the action limits, which
 * ring, stay as they stand until a person has confirmed the new ones: neither tighter ones nor looser ones come in by themselves.
 */
import { type BandEdges, faultsOf, NO_EDGES } from "./band.ts";

const KEYS = ["low", "high", "actionLow", "actionHigh", "urgentLow", "urgentHigh"] as const;
export const sameEdges = (a: BandEdges, b: BandEdges): boolean => KEYS.every((key) => a[key] === b[key]);
const isOpen = (edges: BandEdges): boolean => KEYS.every((key) => edges[key] === null);

export interface FollowedMonths {
  /** Twelve, or one where all are the same. */
  readonly months: readonly BandEdges[];
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

function keptMonth(standing: BandEdges, asked: BandEdges | null, isSigned: boolean): BandEdges {
  if (asked === null) return standing;
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

const monthsOf = (months: readonly BandEdges[]): readonly BandEdges[] =>
  months.length === 12 ? months : Array.from({ length: 12 }, () => months[0] ?? NO_EDGES);

/** One where all twelve are the same, else twelve. */
export function shortened(months: readonly BandEdges[]): readonly BandEdges[] {
  const [first] = months;
  return first && months.every((each) => sameEdges(each, first)) ? [first] : months;
}

/**
 * The months a system keeps to when its residents ask for `asked` (twelve; null where they have nothing in common and nobody signed) and
 * `standing` (one or twelve, empty: none) held before. `signed`: months (1 to 12) whose limits a person has confirmed now.
 */
export function keepTo(
  standing: readonly BandEdges[],
  asked: readonly (BandEdges | null)[],
  signed: readonly number[],
): FollowedMonths {
  const before = monthsOf(standing);
  const months = before.map((each, i) => keptMonth(each, asked[i] ?? null, signed.includes(i + 1)));
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

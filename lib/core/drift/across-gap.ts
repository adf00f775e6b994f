/** What a change between two readings that lie apart may be, before it is a step: a change spread over that time is not a jump. */

/** A pause this many times the usual one is a gap. */
export const GAP = 1.8;

/** What is known of the time in which readings were missing; all in the stream's own unit, minus its plan. */
export interface Gap {
  /** Readings that did not come. */
  readonly missed: number;
  /** What the hours between usually do to the value; 0 where that is not known. */
  readonly usual: number;
  /** The change that the rate rules of the stream let pass in that time; 0 where it has none. */
  readonly permitted: number;
}

/** A tide or a day goes at its fastest half pi times as fast as on average: what is usual may come all at once. */
const FASTEST = Math.PI / 2;

/**
 * The part of a change across a gap that nothing explains, signed; 0 where all of it is explained. `size`: from where the next reading
 * would have been had none been missed; `lead`: the step from reading to reading just before; `going`: the usual size of such a lead.
 * Explained is what lies between standing still, going on as before and what these hours usually do, with the larger of what is
 * permitted and what is usual on both sides. Common practice, no source.
 */
export function unexplained(size: number, lead: number, going: number, gap: Gap): number {
  const carried = lead * gap.missed;
  const allowed = Math.max(gap.permitted, FASTEST * going * gap.missed);
  const low = Math.min(0, carried, gap.usual) - allowed;
  const high = Math.max(0, carried, gap.usual) + allowed;
  if (size > high) return size - high;
  return size < low ? size - low : 0;
}

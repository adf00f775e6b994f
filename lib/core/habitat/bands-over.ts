import { turnsOf } from "../time/in-force.ts";
import { DAY, type Instant } from "../time/instant.ts";
import { type Span, spansBetween } from "../time/spans.ts";
import { type BandEdges, bandFor, edgesAt, type TargetBand } from "./band.ts";

/** Monthly edges slope; this many steps over a range draw the slope closer than a pixel of a chart can show. */
const MOST_STEPS = 200;

/** A stretch of time, [from, to), over which the edges of a band are drawn level. */
export interface BandStep extends Span {
  readonly edges: BandEdges;
}
interface Drawn {
  readonly system: string;
  readonly quantity: string;
  readonly pointCode: string;
}

/**
 * Target bands of a stream in force over [from, to): one step for each band that holds all year, short steps with the edges at their middle
 * for one with monthly values. Stretches without a band are left out. `zone`: IANA zone of the site, whose months they are.
 */
export function bandsOver(
  all: readonly TargetBand[],
  stream: Drawn,
  zone: string,
  from: Instant,
  to: Instant,
): BandStep[] {
  const bands = all.filter((band) => band.quantity === stream.quantity);
  const step = Math.max(DAY, Math.ceil((to - from) / MOST_STEPS));
  return spansBetween(turnsOf(bands), { from, to }).flatMap((span) => {
    const band = bandFor(bands, stream.system, stream.quantity, stream.pointCode, span.from);
    if (!band) return [];
    const width = band.months.length === 1 ? span.to - span.from : step;
    const steps: BandStep[] = [];
    for (let here = span.from; here < span.to; here += width) {
      const next = Math.min(here + width, span.to);
      const middle = Math.floor((here + next) / 2);
      steps.push({ from: here, to: next, edges: edgesAt(band.months, middle, zone) });
    }
    return steps;
  });
}

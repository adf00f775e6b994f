import type { SeriesView } from "#contract/views.ts";
import { bandFor, edgesAt } from "#core/habitat/index.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import type { Stream } from "#store/port.ts";
import type { SystemSetUp } from "../set-up.ts";

/** Monthly edges slope; this many steps over a range draw the slope closer than a pixel of a chart can show. */
const MOST_STEPS = 200;

/**
 * Target bands in force over [from, to): one step for each band that holds all year, short steps with the edges at their middle for one
 * with monthly values. Stretches without a band are left out.
 */
export function bandsOver(at: SystemSetUp, stream: Stream, from: Instant, to: Instant): SeriesView["bands"] {
  const bands = at.bands.filter((band) => band.quantity === stream.quantity);
  const changes = bands.flatMap((band) => [band.validFrom, ...(band.validTo === null ? [] : [band.validTo])]);
  const cuts = [...new Set([from, ...changes.filter((change) => change > from && change < to), to])].sort(
    (a, b) => a - b,
  );
  const step = Math.max(DAY, Math.ceil((to - from) / MOST_STEPS));
  const steps: SeriesView["bands"] = [];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [start, end] = [cuts[i] as Instant, cuts[i + 1] as Instant];
    const band = bandFor(bands, at.system.id, stream.quantity, stream.pointCode, start);
    if (!band) continue;
    const width = band.months.length === 1 ? end - start : step;
    for (let here = start; here < end; here += width) {
      const next = Math.min(here + width, end);
      steps.push({ from: here, to: next, edges: edgesAt(band.months, (here + next) / 2, at.site.zone) });
    }
  }
  return steps;
}

import type { BenchFormView, FieldHere, LastResult } from "#contract/bench-form-view.ts";
import { benchField, walkPlace } from "#core/bench/field.ts";
import { type BandEdges, bandFor, edgesAt } from "#core/habitat/index.ts";
import { mainPoint } from "#core/set-up/point-role.ts";
import type { Instant } from "#core/time/instant.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { BenchResult, Point } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { type SystemSetUp, systemOf } from "../set-up.ts";
import { readBenchWater } from "./read-bench-water.ts";

/** Results of each quantity shown beside its field. */
const LAST = 3;
const AMMONIA = "unionised_ammonia";
/** Read off equipment all day long by probes: not asked for on a walk with a sample bottle unless somebody has typed them before. */
const GAUGES: ReadonlySet<string> = new Set(["flow", "level", "pump_power", "filter_pressure_difference"]);

function edgesOf(
  at: SystemSetUp,
  quantity: string,
  point: Point,
  now: Instant,
): { readonly band: BandEdges; readonly source: string } | null {
  const band = bandFor(at.bands, at.system.id, quantity, point.code, now);
  return band ? { band: edgesAt(band.months, now, at.site.zone), source: band.source } : null;
}

const lastOf = ({ stream: _own, at, received: _received, ...row }: Shown): LastResult => {
  const { label, unit, unitLabel } = labelOf(row.quantity);
  return { ...row, label, unit, unitLabel, sampledAt: at };
};
type Shown = Omit<BenchResult, "test" | "sampledAt">;

/** Quantities of a point that the form asks for: tested there before, or with a band that a person can test against. */
function askedAt(at: SystemSetUp, point: Point, tested: ReadonlySet<string>): string[] {
  const isPlace = point.id === mainPoint(at.points)?.id || at.points.length === 1;
  const banded = at.bands
    .filter((band) => band.point === point.code || (band.point === null && isPlace))
    .map((band) => band.quantity)
    .filter((quantity) => !GAUGES.has(quantity));
  return [...new Set([...tested, ...banded])].sort((a, b) => walkPlace(a) - walkPlace(b));
}

/** The bench form of one system: its fields in walking order with bands and last results, and the water now. Throws AppError "not_found". */
export async function readBenchForm(deps: ReadDeps, code: string): Promise<BenchFormView> {
  const now = deps.clock();
  // A test that was stored a moment ago may have made its streams: somebody who comes back must see it.
  const at = systemOf(await deps.setUp.readAgain(), code);
  const streams = at.streams.filter((stream) => stream.origin === "bench");
  const [results, water] = await Promise.all([
    deps.store.lastBench(
      streams.map((stream) => stream.id),
      LAST,
    ),
    readBenchWater(deps, code, {}),
  ]);
  const here = at.points.flatMap((point): FieldHere[] => {
    const own = streams.filter((stream) => stream.pointCode === point.code);
    const tested = new Set(
      own.filter((s) => results.some((row) => row.stream === s.id)).map((s) => s.quantity),
    );
    return askedAt(at, point, tested).flatMap((quantity): FieldHere[] => {
      const field = benchField(quantity);
      if (!field) return [];
      const stream = own.find((s) => s.quantity === quantity);
      const judged = edgesOf(at, quantity, point, now);
      const last = results.filter((row) => row.stream === stream?.id).map(lastOf);
      return [
        {
          point: point.code,
          field,
          band: judged?.band ?? null,
          bandSource: judged?.source ?? null,
          last,
        },
      ];
    });
  });
  return {
    now,
    zone: at.site.zone,
    siteName: at.site.name,
    system: at.system.code,
    name: at.system.name,
    place: { site: at.site.id, system: at.system.id },
    points: at.points.map((point) => point.code),
    here,
    ammoniaBands: at.points.flatMap((point) => {
      const judged = edgesOf(at, AMMONIA, point, now);
      return judged ? [{ point: point.code, band: judged.band }] : [];
    }),
    water,
  };
}

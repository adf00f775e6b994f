import type { LastBenchView } from "#contract/bench-forms.ts";
import { bandFor, edgesAt } from "#core/habitat/index.ts";
import { isGood } from "#core/quality/flag.ts";
import { mainPoint } from "#core/set-up/point-role.ts";
import type { NumberQuantityId } from "#core/units/index.ts";
import { displayUnits, quantity } from "#core/units/index.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { BenchResult, Current } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { type SystemSetUp, systemOf } from "../set-up.ts";

const USUAL = 3;
type Row = LastBenchView["quantities"][number];

const unitsOf = (id: string): string[] =>
  quantity(id)?.kind === "number" ? displayUnits(id as NumberQuantityId).map((choice) => choice.unit) : [];

function lastOf({
  stream: _own,
  test: _test,
  received: _received,
  at,
  ...row
}: BenchResult): Row["last"][number] {
  const { label, unit, unitLabel } = labelOf(row.quantity);
  return { ...row, label, unit, unitLabel, sampledAt: at };
}

function probeNow(
  at: SystemSetUp,
  point: string,
  id: string,
  currents: ReadonlyMap<number, Current>,
  now: number,
) {
  const probe = at.streams.find(
    (stream) => stream.origin === "probe" && stream.pointCode === point && stream.quantity === id,
  );
  const current = probe && currents.get(probe.id);
  if (!current || !isGood(current.flag) || (current.silentAt !== null && now >= current.silentAt))
    return null;
  return { value: current.value, at: current.at };
}

/** What was last tested in a system, per quantity and point, with the band in force and what the probe says now. Throws "not_found". */
export async function readLastBench(deps: ReadDeps, code: string, limit = USUAL): Promise<LastBenchView> {
  const now = deps.clock();
  // A stream is created by its first result, which writes no set-up entry: who just typed one must find it here.
  const at = systemOf(await deps.setUp.readAgain(), code);
  const tested = at.streams.filter((stream) => stream.origin === "bench");
  const [results, currents] = await Promise.all([
    deps.store.lastBench(
      tested.map((stream) => stream.id),
      limit,
    ),
    deps.store.readCurrent(at.streams.map((stream) => stream.id)),
  ]);
  const byStream = new Map(currents.map((row) => [row.stream, row]));
  const asked = [
    ...tested.map((stream) => ({ point: stream.pointCode, id: stream.quantity, stream: stream.id })),
    ...at.bands.flatMap((band) => {
      const point = band.point ?? mainPoint(at.points)?.code ?? at.points[0]?.code;
      return point === undefined ? [] : [{ point, id: band.quantity, stream: null }];
    }),
  ];
  const seen = new Set<string>();
  const quantities = asked.flatMap(({ point, id, stream }): Row[] => {
    if (seen.has(`${point}/${id}`) || quantity(id)?.kind !== "number") return [];
    seen.add(`${point}/${id}`);
    const band = bandFor(at.bands, at.system.id, id, point, now);
    const { label, unit, unitLabel, decimals } = labelOf(id);
    return [
      {
        quantity: id,
        label,
        unit,
        unitLabel,
        decimals,
        point,
        units: unitsOf(id),
        band: band ? edgesAt(band.months, now, at.site.zone) : null,
        bandSource: band?.source ?? null,
        last: results.filter((row) => row.stream === stream).map(lastOf),
        probe: probeNow(at, point, id, byStream, now),
      },
    ];
  });
  return {
    now,
    zone: at.site.zone,
    system: at.system.code,
    name: at.system.name,
    points: at.points.map((point) => point.code),
    quantities,
  };
}

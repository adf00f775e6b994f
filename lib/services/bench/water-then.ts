import type { AmmoniaAnswer } from "#contract/answers.ts";
import { BENCH_NEAR, PROBE_NEAR } from "#core/bench/water-near.ts";
import { FLAG, isGood } from "#core/quality/flag.ts";
import { nearestFirst } from "#core/set-up/point-role.ts";
import { basisAt, type CalibrationScale } from "#core/set-up/probe-basis.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Store, Stream } from "#store/port.ts";
import { believedReadings } from "../gateway/placed-readings.ts";
import type { SystemSetUp } from "../set-up.ts";

export interface Measured {
  readonly value: number;
  readonly at: Instant;
  readonly origin: Extract<AmmoniaAnswer["inputs"][number]["origin"], "probe" | "bench">;
  /** Of a probe's pH, whose own offset is then in the value. */
  readonly phScale?: CalibrationScale;
}

const nearest = <T extends { readonly at: Instant }>(rows: readonly T[], at: Instant): T | undefined =>
  rows.reduce<T | undefined>(
    (best, row) => (best && Math.abs(best.at - at) <= Math.abs(row.at - at) ? best : row),
    undefined,
  );

async function probeNear(store: Store, stream: Stream, at: Instant): Promise<Measured | undefined> {
  const [from, to] = [at - PROBE_NEAR, at + PROBE_NEAR + 1];
  const [readings, flags] = await Promise.all([
    believedReadings(store, [stream.id], { from, to }),
    store.readFlags(stream.id, from, to, 10_000),
  ]);
  const flagAt = new Map(flags.map((row) => [row.at, row.flag]));
  const found = nearest(
    readings.filter((row) => isGood(flagAt.get(row.at) ?? FLAG.pass)),
    at,
  );
  if (!found) return undefined;
  if (stream.quantity !== "ph") return { value: found.value, at: found.at, origin: "probe" };
  const { phOffset, phScale } = basisAt(stream.basis, found.at);
  return { value: found.value + phOffset, at: found.at, origin: "probe", phScale };
}

/** The believable value of a quantity nearest to a moment: a probe within half an hour, else a bench result within a day. */
export async function waterThen(
  store: Store,
  place: { readonly at: SystemSetUp; readonly point: string },
  quantity: string,
  moment: Instant,
): Promise<Measured | undefined> {
  const streams = place.at.streams.filter((stream) => stream.quantity === quantity);
  for (const stream of nearestFirst(
    place.point,
    streams.filter((row) => row.origin === "probe"),
  )) {
    const found = await probeNear(store, stream, moment);
    if (found) return found;
  }
  const benches = nearestFirst(
    place.point,
    streams.filter((row) => row.origin === "bench"),
  ).map((stream) => stream.id);
  if (benches.length === 0) return undefined;
  const results = await store.benchBetween(benches, moment - BENCH_NEAR, moment + 1, Number.MAX_SAFE_INTEGER);
  const found = nearest(
    results.filter((row) => row.qualifier === "="),
    moment,
  );
  return found && { value: found.value, at: found.at, origin: "bench" };
}

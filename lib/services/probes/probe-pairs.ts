/** A probe beside the bench tests of the same water. */

import type { ProbeView } from "#contract/probes.ts";
import {
  addDifference,
  type BenchCheck,
  type CheckRule,
  differenceOf,
  emptyCheck,
  limitAfter,
  noticedAt,
  scatterOf,
} from "#core/probes/bench-check.ts";
import { PAIRED_WITHIN } from "#core/probes/pairing.ts";
import { isGood } from "#core/quality/flag.ts";
import { median } from "#core/statistics/robust.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import { countOf, figuresText } from "#core/units/figures-text.ts";
import { forQuantity, type NumberQuantityId } from "#core/units/quantity.ts";
import type { BenchResult, Store, Stream } from "#store/port.ts";
import { believedReadings } from "../gateway/placed-readings.ts";

export interface Pairing {
  readonly at: Instant;
  readonly probe: number;
  readonly bench: number;
}
const MOST_FLAGS = 1_000;

/** One bench result and the median of the probe's good readings around it; null where there are none. */
async function pairOf(store: Store, stream: Stream, result: BenchResult): Promise<Pairing | null> {
  const [from, to] = [result.at - PAIRED_WITHIN, result.at + PAIRED_WITHIN + 1];
  const [readings, flags] = await Promise.all([
    believedReadings(store, [stream.id], { from, to }),
    store.readFlags(stream.id, from, to, MOST_FLAGS),
  ]);
  const bad = new Set(flags.filter((row) => !isGood(row.flag)).map((row) => row.at));
  const values = readings.filter((row) => !bad.has(row.at)).map((row) => row.value);
  return values.length === 0 ? null : { at: result.at, probe: median(values), bench: result.value };
}

/** The newest pairs, oldest first; results below or above what the method can tell pair with nothing. */
export async function pairsOf(
  store: Store,
  stream: Stream,
  bench: readonly Stream[],
  most: number,
): Promise<Pairing[]> {
  const results = await store.lastBench(
    bench.map((row) => row.id),
    most,
  );
  const plain = results.filter((row) => row.qualifier === "=");
  const pairs = await Promise.all(plain.map((row) => pairOf(store, stream, row)));
  return pairs.flatMap((pair) => pair ?? []).sort((a, b) => a.at - b.at);
}

/** Every pair with the chart as it stood after it; the chart starts again at each calibration. */
export function chartOf(
  pairs: readonly Pairing[],
  rule: CheckRule,
  calibratedAt: readonly Instant[],
): { readonly rows: ProbeView["pairs"]; readonly state: BenchCheck } {
  let state = emptyCheck(-1);
  const rows = pairs.map((pair) => {
    const since = Math.max(-1, ...calibratedAt.filter((at) => at <= pair.at));
    if (since !== state.since) state = emptyCheck(since);
    const difference = differenceOf(rule, pair.probe, pair.bench);
    state = addDifference(state, rule, difference, pair.at);
    return {
      ...pair,
      difference,
      ewma: state.ewma,
      limit: Math.max(rule.matters, limitAfter(state.n, scatterOf(state, rule))),
    };
  });
  return { rows, state };
}

/** Drift a day that probes of a quantity are known for: pH 0.097 and oxygen 0.32 mg/L in 30 days, medians of what technicians took out of a
 * river sonde's record 2014-2019 (Logan River Observatory); else what matters in 30 days. */
const DRIFT_PER_DAY: Partial<Record<NumberQuantityId, number>> = {
  ph: 0.097 / 30,
  dissolved_oxygen: 0.32 / 30,
};

const every = (days: number): string => {
  if (days < 1.5) return "Daily tests";
  if (days > 5.5 && days < 8.5) return "Weekly tests";
  return `Tests every ${Math.round(days)} days`;
};

/** What tests this often can see of a drift, said in words. */
export function seesWords(
  pairs: readonly Pairing[],
  rule: CheckRule,
  state: BenchCheck,
  quantity: string,
  words: { readonly label: string; readonly unit: string; readonly decimals: number },
): string {
  if (pairs.length < 3)
    return `Too few bench tests of this probe to say how much drift they would show (${pairs.length}).`;
  const gaps = pairs.slice(1).map((pair, i) => pair.at - (pairs[i] as Pairing).at);
  const days = Math.max(0.25, median(gaps) / DAY);
  const noticed = noticedAt(
    rule,
    scatterOf(state, rule),
    forQuantity(DRIFT_PER_DAY, quantity) ?? rule.matters / 30,
    days,
  );
  if (!noticed) return `${every(days)} here would not show a slow drift.`;
  const unit = words.unit === "" ? words.label : words.unit;
  return `${every(days)} here would show a drift of about ${figuresText(noticed.moved, 1)} ${unit} after ${countOf(noticed.tests, "test")}.`;
}

/** What the evaluator keeps of each stream, added up: thousands of rows in a few numbers that change with any of them. */
import type { Store } from "#store/port.ts";

const WIDTHS = [900_000, 10_800_000, 86_400_000];
const [FROM, TO, ALL] = [0, Number.MAX_SAFE_INTEGER, 1_000_000];

/** Weighted by their place, so that two values that changed places show. */
const sumOf = (values: readonly (number | null)[]): number =>
  values.reduce<number>((sum, value, index) => sum + (value ?? 0) * (1 + (index % 7)), 0);

/** Of each stream by id: how many flags, derived values and means there are, and their sums. */
export async function judgedOf(store: Store, streams: readonly number[]): Promise<Record<number, unknown>> {
  const judged: Record<number, unknown> = {};
  for (const stream of streams) {
    const flags = await store.readFlags(stream, FROM, TO, ALL);
    const derived = await store.readDerived(stream, FROM, TO, ALL);
    const means: Record<number, readonly number[]> = {};
    for (const width of WIDTHS) {
      const rows = await store.readRollups({ streams: [stream], from: FROM, to: TO, width });
      const values = rows.flatMap(({ min, max, sum, first, last }) => [min, max, sum, first, last]);
      means[width] = [
        rows.length,
        sumOf(rows.flatMap(({ start, n, good }) => [start, n, good])),
        sumOf(values),
      ];
    }
    judged[stream] = {
      flags: [flags.length, sumOf(flags.flatMap(({ at, flag }) => [at, flag]))],
      reasons: [...new Set(flags.flatMap(({ reasons }) => reasons))].sort(),
      derived: [
        derived.length,
        sumOf(derived.map(({ at }) => at)),
        sumOf(derived.flatMap(({ value, low, high }) => [value, low, high])),
      ],
      means,
    };
  }
  return judged;
}

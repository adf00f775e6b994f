/** What a benchmark hands back, and the small tools every one of them measures with. */

export interface BenchOptions {
  /** Readings in the large store of `trend`. */
  readonly readings: number;
  /** 1 = the full run; less makes counts and durations smaller, to see that a benchmark works. */
  readonly scale: number;
  /** Folder of recorded files, for the benchmarks that want them; null: where they are usually found. */
  readonly data: string | null;
  /** One line of progress, on standard error. */
  readonly say: (line: string) => void;
}

/** One line of the table: ours beside a reference measured in the same run. */
export interface BenchRow {
  readonly what: string;
  /** Of both numbers, e.g. "messages/s" or "ms". */
  readonly unit: string;
  /** Medians over the repetitions, or percentiles where `what` says so; null where it could not be measured, and `note` says why. */
  readonly ours: number | null;
  readonly reference: number | null;
  readonly referenceIs: string;
  /** What is asked for: of the ratio ours / reference, or of our number. */
  readonly target: Target | null;
  readonly note?: string;
}
export interface Target {
  readonly of: "ratio" | "ours";
  readonly atLeast?: number;
  readonly atMost?: number;
}

export interface BenchCase {
  readonly name: string;
  run(options: BenchOptions): Promise<BenchRow[]>;
}

/** Value below which `share` of the samples lie (nearest rank), e.g. 0.95; NaN without samples. */
export function percentile(samples: readonly number[], share: number): number {
  const sorted = [...samples].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN;
}
export const median = (samples: readonly number[]): number => percentile(samples, 0.5);

/** Milliseconds that `body` takes. */
export async function timed(body: () => unknown): Promise<number> {
  const began = performance.now();
  await body();
  return performance.now() - began;
}

/** A whole count made smaller for a trial run, at least `least`. */
export const scaled = (count: number, scale: number, least = 1): number =>
  Math.max(least, Math.round(count * scale));

/** The same numbers in every run: a linear congruential generator (Numerical Recipes, "an even quicker generator"), in [0, 1). */
export function steadyRandom(seed = 1): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

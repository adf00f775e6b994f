import { expect, it } from "vitest";
import { NO_TALLY, type Stretch, tallyOf } from "#core/fit/tally.ts";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import { DAY } from "#core/time/instant.ts";
import { rollup } from "./samples.ts";
import { EMPTY_PATCH, eachWith, type OpenSubject, T, withParts } from "./subject.ts";

/** A steady walk of rows that leaves the range on both sides, with rows of no good reading between. */
function rowsOf(stream: number, count: number) {
  return Array.from({ length: count }, (_, i) => {
    const good = i % 13 === 5 ? 0 : 1 + (i % 3);
    const mean = 15 + 3.7 * Math.sin(i / 9.3) + (i % 7) / 7;
    return rollup(stream, T + i * QUARTER_HOUR, { n: 3, good, sum: good * mean });
  });
}

export function describeTallies(open: OpenSubject): void {
  const subject = eachWith(open);

  it("counts what the same rows give by hand, to the last bit, whatever the range", async () => {
    const { store, temperature, ph } = await withParts(subject().store);
    const rows = [...rowsOf(temperature, 384), ...rowsOf(ph, 50)];
    const lease = (await store.acquireLease("evaluator", "a", T, 1_000)) ?? { epoch: -1 };
    await store.commitEvaluation(
      { ...EMPTY_PATCH, rollups: rows, cursor: { seq: 1, received: T } },
      { seq: 0, lease, leaseName: "evaluator" },
    );
    const of = (change: Partial<Stretch>): Stretch => ({
      stream: temperature,
      from: T,
      to: T + 4 * DAY,
      start: T - 3 * DAY,
      end: T + 27 * DAY,
      low: [13.3, 14.1],
      high: [16.7, 15.2],
      ...change,
    });
    const stretches = [
      of({}),
      of({ from: T + DAY, to: T + 2 * DAY }),
      of({ low: null }),
      of({ high: null, low: [15, 15] }),
      of({ low: null, high: null }),
      of({ low: [15, 15], high: [15, 15] }),
      of({ stream: ph, low: [0.1, 0.3] }),
      of({ stream: 9_999 }),
    ];
    const asked = await store.tallyStretches(stretches);
    expect(asked).toEqual(stretches.map((stretch) => tallyOf(stretch, rows)));
    expect(asked[0]?.n).toBe(rows.filter((row) => row.stream === temperature && row.good > 0).length);
    expect(asked[0]?.below).toBeGreaterThan(20);
    expect(asked[0]?.above).toBeGreaterThan(20);
    expect(asked.at(-1)).toEqual(NO_TALLY);
    expect(await store.tallyStretches([])).toEqual([]);
  });
}

/** States that are kept to go back to share memory with the live one: what is folded later must not show in them. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { foldReading } from "#core/evaluate/fold.ts";
import { createFoldContext } from "#core/evaluate/fold-context.ts";
import { emptyOutputs, type Input } from "#core/evaluate/outputs.ts";
import { restoreSnapshot, snapshotOf } from "#core/evaluate/water-snapshot.ts";
import { emptyWater, readWater, type WaterState, writeWater } from "#core/evaluate/water-state.ts";
import { MINUTE } from "#core/time/instant.ts";
import { settingsOf, stream } from "./folded.ts";

const T0 = Date.parse("2026-02-01T00:00:00Z");
const CADENCE = 5 * MINUTE;
const QUANTITIES = ["temperature", "conductivity", "ph"] as const;
const USUAL = [15, 41, 8.05];

const context = createFoldContext(
  settingsOf({ streams: QUANTITIES.map((quantity, n) => stream(n + 1, quantity)) }),
);

const inputOf = (stream: number, at: number, value: number): Input => ({
  stream,
  at,
  value,
  received: at,
  mark: null,
  recorded: false,
});
const fold = (water: WaterState, inputs: readonly Input[]) => {
  for (const input of inputs) foldReading(context, water, input, emptyOutputs());
};

/** Long enough that what lies outside the longest window is dropped more than once. */
const ROUNDS = 260;
/** Share of the usual value by which a reading misses it: mostly little, now and then far out or beyond what a probe can read. */
const miss = fc.oneof(
  { weight: 20, arbitrary: fc.double({ min: -0.004, max: 0.004, noNaN: true }) },
  { weight: 2, arbitrary: fc.double({ min: -0.3, max: 0.3, noNaN: true }) },
  { weight: 1, arbitrary: fc.constant(40) },
);

describe("a kept state", () => {
  it("is what it was, and going on from it meets the live state, as often as one goes back", () => {
    fc.assert(
      fc.property(
        fc.array(miss, { minLength: ROUNDS, maxLength: ROUNDS }),
        fc.integer({ min: 0, max: ROUNDS - 1 }),
        fc.integer({ min: 0, max: ROUNDS - 1 }),
        (misses, one, other) => {
          const inputs = misses.flatMap((by, n) =>
            USUAL.map((usual, i) =>
              inputOf(i + 1, T0 + n * CADENCE, usual * (1 + by * (i === n % 3 ? 1 : 0.1))),
            ),
          );
          const [first, second] = [3 * Math.min(one, other), 3 * Math.max(one, other)];
          const live = emptyWater();
          fold(live, inputs.slice(0, first));
          const [kept, then] = [snapshotOf(live), writeWater(live)];
          fold(live, inputs.slice(first, second));
          const [keptLater, thenLater] = [snapshotOf(live), writeWater(live)];
          fold(live, inputs.slice(second));
          const end = writeWater(live);
          for (let time = 0; time < 2; time += 1) {
            expect(writeWater(restoreSnapshot(kept))).toBe(then);
            const again = restoreSnapshot(kept);
            fold(again, inputs.slice(first));
            expect(writeWater(again)).toBe(end);
            expect(writeWater(restoreSnapshot(keptLater))).toBe(thenLater);
            const later = restoreSnapshot(keptLater);
            fold(later, inputs.slice(second));
            expect(writeWater(later)).toBe(end);
          }
          expect(writeWater(live)).toBe(end);
        },
      ),
      { numRuns: 25 },
    );
  });
});

describe("a checkpoint", () => {
  it("written while a rollup holds only what no probe can read goes on as the state itself does", () => {
    const before = [inputOf(1, T0, 400), inputOf(1, T0 + CADENCE, 400)];
    const after = [inputOf(1, T0 + 2 * CADENCE, 8.25), inputOf(1, T0 + 3 * CADENCE, 8.5)];
    const live = emptyWater();
    fold(live, before);
    const restored = readWater(writeWater(live));
    fold(live, after);
    fold(restored, after);
    expect(writeWater(restored)).toBe(writeWater(live));
    const rollup = restored.streams.get(1)?.rollups[1];
    expect([rollup?.n, rollup?.good, rollup?.min, rollup?.max]).toEqual([4, 2, 8.25, 8.5]);
  });
});

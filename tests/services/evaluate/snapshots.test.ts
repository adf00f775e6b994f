/** States to go back to are thinned out with age, and still reach as far back as is promised. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { createWalker, restoreSnapshotBefore, SNAPSHOT_SPAN, walk } from "#services/evaluate/walker.ts";
import { settingsOf, stream } from "#tests/core/evaluate/folded.ts";

const T0 = Date.parse("2026-02-01T00:00:00Z");
const settings = settingsOf({ streams: [stream(1, "temperature")] });

/** A walker after readings with these pauses in minutes between them, and when the last one was. */
function walked(pauses: readonly number[]) {
  const walker = createWalker(settings);
  let at = T0;
  for (const pause of pauses) {
    at += pause * MINUTE;
    const value = 15 + Math.sin(at / HOUR) / 10;
    walk(walker, { stream: 1, at, value, received: at, mark: null, recorded: false }, true);
  }
  return { walker, at };
}

it("of a steady stream seven are enough for three hours", () => {
  const { walker, at } = walked(Array.from({ length: 200 }, () => 5));
  const kept = walker.snapshots.map((snapshot) => at - snapshot.at);
  expect(kept.length).toBeLessThanOrEqual(7);
  expect(kept[0]).toBeGreaterThanOrEqual(SNAPSHOT_SPAN);
  // Fresh readings come up to a quarter of an hour late and find a state no older than the quarter before.
  expect(kept.filter((age) => age < 2 * QUARTER_HOUR)).toHaveLength(2);
});

it("whatever the pauses, what is three hours late goes back to a state before it, and of the last quarter of an hour not far", () => {
  fc.assert(
    fc.property(
      fc.array(fc.oneof(fc.constant(5), fc.integer({ min: 1, max: 200 })), {
        minLength: 100,
        maxLength: 100,
      }),
      fc.integer({ min: 0, max: SNAPSHOT_SPAN }),
      (pauses, late) => {
        const { walker, at } = walked(pauses);
        const quarter = at - (at % QUARTER_HOUR);
        const before = walker.snapshots.map((snapshot) => snapshot.at);
        const to = quarter - late;
        const start = restoreSnapshotBefore(walker, to);
        expect(start).toBe(before.findLast((each) => each <= to));
        expect(start).toBeLessThanOrEqual(to);
        expect(walker.water.frontier.at).toBeLessThan(start as number);
        // Between two that are kept there is an hour at most, or no reading at all.
        for (const [index, each] of before.entries()) {
          const next = before[index + 1] ?? quarter;
          const seen = pauses.reduce<{ at: number; n: number }>(
            (sum, pause) => {
              const now = sum.at + pause * MINUTE;
              return { at: now, n: sum.n + (now >= each + HOUR && now < next ? 1 : 0) };
            },
            { at: T0, n: 0 },
          );
          expect(seen.n).toBe(0);
        }
      },
    ),
    { numRuns: 60 },
  );
});

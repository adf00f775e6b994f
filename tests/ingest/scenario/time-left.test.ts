/** How long was left in the story's own excursions, told from the hours before, held against when the water got there. */
import { expect, test } from "vitest";
import { soon } from "#core/forecast/time-left.ts";
import { HOUR, MINUTE } from "#core/time/index.ts";
import { readingsBetween } from "#ingest/scenario/readings.ts";
import { ANCHOR, clock, scenario } from "./pennacombe.ts";

const QUARTER = 15 * MINUTE;

/** Quarter-hour means since `from`, by the hours before `now`. */
function means(rows: readonly (readonly [at: number, value: number])[], from: number, now: number) {
  const quarters = new Map<number, number[]>();
  for (const [at, value] of rows) {
    const start = at - (at % QUARTER);
    if (start >= from && at <= now) quarters.set(start, [...(quarters.get(start) ?? []), value]);
  }
  return [...quarters].map(
    ([start, values]) =>
      [
        (Math.min(start + QUARTER / 2, now) - now) / HOUR,
        values.reduce((sum, value) => sum + value, 0) / values.length,
      ] as const,
  );
}

test.each([
  ["reef-lagoon", "temperature", 27, "D9 19:00", "D9 20:30"],
  ["reef-lagoon", "temperature", 27, "D9 19:00", "D9 21:00"],
  ["reef-lagoon", "temperature", 27, "D9 19:00", "D9 22:06"],
  ["reef-lagoon", "temperature", 27, "D9 19:00", "D9 23:00"],
  ["kelp-gallery", "orp", 400, "D10 03:00", "D10 04:30"],
  ["kelp-gallery", "orp", 400, "D10 03:00", "D10 05:00"],
])("%s %s: the time to %d, told from %s on at %s, holds what came", (system, quantity, goal, from, mark) => {
  const stream = scenario.streams.findIndex(
    (row) => row.system === system && row.quantity === quantity && row.point === "display",
  );
  const [since, now] = [clock.instantOf(from), clock.instantOf(mark)];
  const rows = [...readingsBetween(scenario, ANCHOR, since, since + 12 * HOUR, "as-sampled")]
    .filter((reading) => reading.stream === stream)
    .map(({ at, value }) => [at, value] as const);
  const came = rows.find(([at, value]) => at > now && value >= goal)?.[0] ?? Number.NaN;
  const value = rows.findLast(([at]) => at <= now)?.[1] ?? null;
  const heading = {
    value,
    deviation: 0,
    rate: null,
    band: null,
    isFast: true,
    recent: means(rows, since, now),
  };
  const told = soon(heading, goal, 1);
  expect(told?.isStated).toBe(false);
  expect((came - now) / HOUR).toBeGreaterThanOrEqual(told?.earliest ?? Number.NaN);
  expect((came - now) / HOUR).toBeLessThanOrEqual(told?.latest ?? Number.NaN);
});

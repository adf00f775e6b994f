/** Falls whose truth is known: lines and exponential approaches. Source of every number: worked from distance = speed × time, and from the exponential itself. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { crossingSince } from "#core/forecast/since-event.ts";

const EVERY = 1 / 12;
/** Readings from the event's beginning until `hours` after it, with a repeatable noise. */
const readings = (course: (hours: number) => number, hours: number, noise = 0) => {
  const count = Math.floor(hours / EVERY) + 1;
  return Array.from({ length: count }, (_, i) => {
    const t = i * EVERY;
    return [t - (count - 1) * EVERY, course(t) + noise * (((i * 7_919) % 13) / 6 - 1)] as const;
  });
};

describe("the range holds the truth at every moment after the third reading", () => {
  test("of a line", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.3, max: 3, noNaN: true }),
        fc.integer({ min: 2, max: 24 }),
        (speed, i) => {
          const goal = 8.4 - speed * 3;
          const left = 3 - i * EVERY;
          const told = crossingSince(
            readings((t) => 8.4 - speed * t, i * EVERY, 0.005),
            goal,
            -1,
          );
          expect(told?.earliest).toBeLessThanOrEqual(left);
          expect(told?.latest ?? Number.POSITIVE_INFINITY).toBeGreaterThanOrEqual(left);
          expect(told?.earliest).toBeGreaterThan(0);
        },
      ),
    );
  });

  test("of an exponential approach, also of one that never gets there", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.7, max: 3, noNaN: true }),
        fc.double({ min: 0.3, max: 1.4, noNaN: true }),
        fc.integer({ min: 2, max: 30 }),
        (constant, share, i) => {
          // Falls by 2 in the end; the limit is `share` of that away.
          const goal = 8.4 - 2 * share;
          const reached = share < 1 ? -constant * Math.log(1 - share) : Number.POSITIVE_INFINITY;
          const t = i * EVERY;
          fc.pre(t < reached - EVERY);
          const told = crossingSince(
            readings((x) => 8.4 - 2 * (1 - Math.exp(-x / constant)), t, 0.002),
            goal,
            -1,
          );
          expect(told?.earliest ?? 0).toBeLessThanOrEqual(reached - t);
          expect(told?.latest ?? Number.POSITIVE_INFINITY).toBeGreaterThanOrEqual(reached - t);
        },
      ),
    );
  });
});

test("two readings, and water that goes the other way, tell nothing", () => {
  expect(
    crossingSince(
      [
        [-0.1, 8],
        [0, 7.9],
      ],
      6,
      -1,
    ),
  ).toBeNull();
  expect(
    crossingSince(
      readings((t) => 8 + t, 1),
      6,
      -1,
    ),
  ).toBeNull();
});

test("calm hours before the event say nothing of it", () => {
  const soonThere = crossingSince(
    readings((t) => 8 - t, 1),
    6,
    -1,
  );
  expect([soonThere?.earliest, soonThere?.latest]).toEqual([
    expect.closeTo(1 / 1.5, 6),
    expect.closeTo(1.5, 6),
  ]);
  // After a quarter of an hour nothing says that it goes on alike for two hours more.
  expect(
    crossingSince(
      readings((t) => 8 - t, 0.25),
      6,
      -1,
    ),
  ).toMatchObject({ earliest: expect.closeTo(1.75 / 2.5, 6), latest: null });
});

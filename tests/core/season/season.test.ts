import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type MonthlyRange, proposeSeason, seasonStanding, setPointFaults } from "#core/season/index.ts";
import { DAY } from "#core/time/instant.ts";

const WEEK = 7 * DAY;
// Source: COADS, box at 49 N 5 W (western English Channel), printed to 0.1.
const CHANNEL = [10.8, 10.2, 10.0, 10.5, 11.8, 14.0, 15.8, 16.4, 15.7, 14.6, 13.2, 12.0];
const OPEN: MonthlyRange[] = Array.from({ length: 12 }, () => ({ low: null, high: null }));
const within = (low: number, high: number): MonthlyRange[] =>
  Array.from({ length: 12 }, () => ({ low, high }));
const asked = {
  native: CHANNEL,
  room: OPEN,
  from: Date.UTC(2026, 10, 1),
  standing: null,
  weeks: 52,
  rate: 1,
  zone: "UTC",
};
const proposed = (change: Partial<Parameters<typeof proposeSeason>[0]>) => {
  const found = proposeSeason({ ...asked, ...change });
  if (!found.ok) throw new Error(found.says);
  return found.proposal;
};

describe("a proposed season", () => {
  it("begins on the native curve: 13.83 degC in the western Channel on 1 November", () => {
    // By hand from the mid-month rule: 14.6 - 1.4 x 17/31.
    expect(proposed({}).setPoints[0]).toEqual([Date.UTC(2026, 10, 1), 13.83]);
    expect(proposed({})).toMatchObject({ heldByBand: 0, heldByRate: 0, outside: [] });
  });
  it("is held inside the band, and says for how many weeks", () => {
    const { setPoints, heldByBand } = proposed({ room: within(11, 15) });
    expect(Math.min(...setPoints.map(([, value]) => value))).toBe(11);
    expect(Math.max(...setPoints.map(([, value]) => value))).toBe(15);
    expect(heldByBand).toBeGreaterThan(20);
  });
  it("comes down from where the system stands no faster than the rate, and says when that leaves it outside", () => {
    const { setPoints, outside } = proposed({ standing: 18, rate: 0.5, room: within(9, 16) });
    expect(setPoints.slice(0, 4).map(([, value]) => value)).toEqual([17.5, 17, 16.5, 16]);
    expect(outside).toEqual([0, 1, 2].map((week) => asked.from + week * WEEK));
  });
  it("waits where the animals have no range in common", () => {
    const room = within(9, 16).map((month, i) => (i === 0 ? null : month));
    expect(proposeSeason({ ...asked, room })).toMatchObject({
      ok: false,
      remedy: expect.stringContaining("compromise"),
    });
  });
  it("never changes faster than the rate and passes its own check, whatever home and band", () => {
    const value = fc.double({ min: -2, max: 32, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(value, { minLength: 12, maxLength: 12 }),
        fc.double({ min: 0.2, max: 3, noNaN: true }),
        fc.option(value),
        (native, rate, standing) => {
          const { setPoints } = proposed({ native, rate, standing });
          expect(setPoints).toHaveLength(53);
          expect(setPointFaults(setPoints, standing === null ? 40 : rate)).toEqual([]);
        },
      ),
    );
  });
});

describe("set-points a person typed", () => {
  it("are refused by set-point: too fast, out of order, no number", () => {
    const t = asked.from;
    expect(
      setPointFaults(
        [
          [t, 12],
          [t + WEEK, 14],
        ],
        1,
      ),
    ).toEqual(["set-point 2 changes by 2.00 a week, more than 1"]);
    expect(
      setPointFaults(
        [
          [t, 12],
          [t, 12],
        ],
        1,
      ),
    ).toEqual(["set-point 2 is not later than the one before it"]);
    expect(
      setPointFaults(
        [
          [t, 12],
          [t + WEEK, Number.NaN],
        ],
        1,
      ),
    ).toContain("set-point 2 is not a number");
    expect(setPointFaults([[t, 12]], 1)).toEqual(["a plan needs at least two set-points"]);
  });
});

describe("a season judged", () => {
  const t = asked.from;
  /** Falling 0.1 a day for thirty days. */
  const plan = [
    [t, 15],
    [t + 30 * DAY, 12],
  ] as const;
  const means = (value: (day: number) => number) =>
    Array.from({ length: 15 }, (_, day) => [t + day * DAY, value(day)] as const);

  it("is ahead of a falling plan by 0.5 degC, five days, when it falls by 0.15 a day", () => {
    // By hand: after ten days the plan stands at 14.0, the water at 13.5; 0.5 is what the plan falls in five days.
    const standing = seasonStanding(
      plan,
      means((day) => 15 - 0.15 * day),
      t + 10 * DAY,
    );
    expect(standing?.planned).toBeCloseTo(14, 9);
    expect(standing?.ahead?.units).toBeCloseTo(0.5, 9);
    expect(standing?.ahead?.days).toBeCloseTo(5, 9);
    expect(standing?.slope).toBeCloseTo(-0.15, 9);
    expect(standing?.plannedSlope).toBeCloseTo(-0.1, 9);
  });
  it("has neither ahead nor behind while the plan is level, and nothing to say without a recent mean", () => {
    const level = [
      [t, 15],
      [t + 30 * DAY, 15],
    ] as const;
    expect(
      seasonStanding(
        level,
        means(() => 15.4),
        t + 10 * DAY,
      ),
    ).toMatchObject({ ahead: null });
    expect(
      seasonStanding(
        plan,
        means(() => 15),
        t + 20 * DAY,
      ),
    ).toBeNull();
    expect(
      seasonStanding(
        [],
        means(() => 15),
        t,
      ),
    ).toBeNull();
    expect(
      seasonStanding(
        plan,
        means(() => 15),
        t - DAY,
      ),
    ).toBeNull();
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type BreedingWatch,
  countedWindow,
  isWatched,
  rampsWatched,
  watchedSpans,
} from "#core/habitat/index.ts";
import { DAY } from "#core/time/instant.ts";

const T = Date.UTC(2026, 0, 1);
const WEEK = 7 * DAY;
// Shortest and longest are the best guess for one large ray, 8 to 12 months. Common practice, no source.
const watch = (change: Partial<BreedingWatch> = {}): BreedingWatch => ({
  id: "w",
  system: "lagoon",
  animal: "tuppence",
  species: "large-ray",
  kind: "gestation",
  first: T,
  last: T,
  mayDelay: false,
  shortestDays: 240,
  longestDays: 365,
  source: "common practice, no source",
  narrowed: null,
  openedAt: T + 10 * DAY,
  openedBy: "Ada",
  outcome: null,
  endedAt: null,
  ...change,
});
const stay = (system: string, from: number, to: number | null, animal = "tuppence") => ({
  animal,
  system,
  from,
  to,
});
const EARLY = T + 240 * DAY;

describe("a watch", () => {
  it("follows its animal through systems and joins stays that a change of stage cut", () => {
    const stays = [
      stay("lagoon", T, T + 100 * DAY),
      stay("lagoon", T + 100 * DAY, T + 300 * DAY),
      stay("pool", T + 300 * DAY, null),
      stay("pool", T, null, "another"),
    ];
    expect(watchedSpans(watch(), stays, "lagoon")).toEqual([{ from: EARLY, to: T + 300 * DAY }]);
    expect(watchedSpans(watch(), stays, "pool")).toEqual([{ from: T + 300 * DAY, to: null }]);
    expect(watchedSpans(watch(), stays, "kelp")).toEqual([]);
  });
  it("of eggs stays where they were laid, whoever moves", () => {
    const eggs = watch({ kind: "incubation" });
    const stays = [stay("lagoon", T, T + 10 * DAY), stay("pool", T + 10 * DAY, null)];
    expect(watchedSpans(eggs, stays, "lagoon")).toEqual([{ from: EARLY, to: null }]);
    expect(watchedSpans(eggs, stays, "pool")).toEqual([]);
  });
  it("counts from its opening where the first day is not known, until it is ended, past its late edge too", () => {
    const stays = [stay("lagoon", T, null)];
    const unknown = watch({ first: null });
    expect(watchedSpans(unknown, stays, "lagoon")).toEqual([{ from: unknown.openedAt, to: null }]);
    const born = watch({ outcome: "born", endedAt: T + 250 * DAY });
    expect(watchedSpans(born, stays, "lagoon")).toEqual([{ from: EARLY, to: T + 250 * DAY }]);
    expect(watchedSpans(watch({ outcome: "born", endedAt: T + DAY }), stays, "lagoon")).toEqual([]);
    const narrowed = { earliest: T + 260 * DAY, latest: T + 280 * DAY, by: "Ada", at: T, reason: "seen" };
    expect(countedWindow(watch({ narrowed }))).toEqual({ earliest: T + 260 * DAY, latest: T + 280 * DAY });
    expect(watchedSpans(watch({ narrowed }), stays, "lagoon")).toEqual([{ from: T + 260 * DAY, to: null }]);
  });
  it("is in a span exactly when it is watched and its animal is there (property)", () => {
    const stays = [stay("lagoon", T + 30 * DAY, T + 270 * DAY), stay("lagoon", T + 300 * DAY, null)];
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 500 }),
        fc.option(fc.integer({ min: 20, max: 450 })),
        fc.boolean(),
        (day, ended, delayed) => {
          const one = watch({ mayDelay: delayed, endedAt: ended === null ? null : T + ended * DAY });
          const at = T + day * DAY;
          const inSpan = watchedSpans(one, stays, "lagoon").some(
            ({ from, to }) => from <= at && (to === null || at < to),
          );
          const isThere = stays.some(({ from, to }) => from <= at && (to === null || at < to));
          expect(inSpan).toBe(isWatched(one, at) && isThere);
        },
      ),
    );
  });
});

describe("a plan beside a watch", () => {
  const stays = [stay("lagoon", T, null)];
  const points = (...values: number[]) =>
    values.map((value, i): [number, number] => [EARLY - 2 * WEEK + i * WEEK, value]);
  const ramps = (setPoints: readonly (readonly [number, number])[], one = watch(), at = "lagoon", now = T) =>
    rampsWatched(one, stays, at, setPoints, now);

  it("ramps in the window only where it changes there, a step partly inside included", () => {
    // Two weeks before the window ramp and are nothing to it; then level, then 0.4 down.
    expect(ramps(points(24, 24.5, 25, 25, 25, 24.6, 24.6))).toEqual({
      steps: 1,
      from: EARLY + 2 * WEEK,
      to: EARLY + 3 * WEEK,
      most: expect.closeTo(-0.4, 9),
    });
    const straddling = [
      [EARLY - 3 * DAY, 24],
      [EARLY + 4 * DAY, 24.3],
    ] as const;
    expect(ramps(straddling)).toMatchObject({ steps: 1 });
  });
  it("may ramp after the late edge, unless nobody knows the end: overdue already, or not bounded", () => {
    const late = T + 365 * DAY;
    const after = [
      [late, 24],
      [late + WEEK, 24.5],
    ] as const;
    expect(ramps(after)).toBeNull();
    expect(ramps(after, watch({ mayDelay: true }))).toMatchObject({ steps: 1 });
    expect(ramps(after, watch(), "lagoon", late)).toMatchObject({ steps: 1 });
  });
  it("is level where it changes by less than anybody sees, and none of a system's where the animal is elsewhere", () => {
    expect(ramps(points(24, 24.5, 25, 25.02, 25.04, 25.05))).toBeNull();
    expect(ramps(points(24, 24.5, 25, 25.5, 26), watch(), "pool")).toBeNull();
    const ended = watch({ outcome: "born", endedAt: EARLY + DAY });
    expect(ramps(points(24, 24, 24, 24, 26), ended)).toBeNull();
  });
});

import { describe, expect, test } from "vitest";
import { type BreedingWatch, breedingWindow, isWatched, standOf } from "#core/habitat/index.ts";

const DAY = 86_400_000;
const T = Date.UTC(2026, 0, 1);
// A gestation of 11 to 12 months of a cownose ray: Smith & Merriner 1986, from memory.
const watch = (change: Partial<BreedingWatch> = {}): BreedingWatch => ({
  id: "watch-1",
  system: "system-rays",
  animal: "animal-tuppence",
  species: "cownose-ray",
  kind: "gestation",
  first: T,
  last: T + 51 * DAY,
  mayDelay: false,
  shortestDays: 330,
  longestDays: 365,
  source: "Smith & Merriner 1986, from memory",
  narrowed: null,
  openedAt: T,
  openedBy: "Ada",
  outcome: null,
  endedAt: null,
  ...change,
});

describe("the window", () => {
  test("runs from the first day + shortest to the last day + longest", () => {
    expect(breedingWindow(watch())).toEqual({
      earliest: T + 330 * DAY,
      latest: T + (51 + 365) * DAY,
      unbounded: null,
    });
  });
  test("its edges are whole milliseconds, whatever part of a day the species takes", () => {
    const { earliest, latest } = breedingWindow(watch({ shortestDays: 11 / 7, longestDays: 100 / 7 }));
    expect([earliest, latest].map(Number.isInteger)).toEqual([true, true]);
  });
  test("an unknown day leaves its edge open", () => {
    expect(breedingWindow(watch({ first: null })).earliest).toBeNull();
    expect(breedingWindow(watch({ last: null }))).toMatchObject({
      latest: null,
      unbounded: "last day unknown",
    });
  });
  test("where sperm may be stored the late edge is not bounded, whatever the last day", () => {
    expect(breedingWindow(watch({ mayDelay: true }))).toMatchObject({
      latest: null,
      unbounded: "storage possible",
    });
  });
});

describe("where it stands", () => {
  test("before, in the window, overdue, ended", () => {
    expect(standOf(watch(), T + 329 * DAY)).toBe("before");
    expect(standOf(watch(), T + 330 * DAY)).toBe("in window");
    expect(standOf(watch(), T + 416 * DAY)).toBe("overdue");
    expect(standOf(watch({ outcome: "born", endedAt: T + 340 * DAY }), T + 416 * DAY)).toBe("ended");
  });
  test("an unbounded one is watched from its early edge on and never overdue", () => {
    expect(standOf(watch({ mayDelay: true }), T + 4_000 * DAY)).toBe("not bounded");
    expect(isWatched(watch({ mayDelay: true }), T + 4_000 * DAY)).toBe(true);
    expect(isWatched(watch({ mayDelay: true }), T)).toBe(false);
  });
  test("a window a person drew closer counts, and the computed one stays as it is", () => {
    const narrowed = {
      earliest: T + 350 * DAY,
      latest: T + 360 * DAY,
      by: "Ada",
      at: T,
      reason: "ultrasound",
    };
    const one = watch({ narrowed });
    expect(standOf(one, T + 340 * DAY)).toBe("before");
    expect(standOf(one, T + 361 * DAY)).toBe("overdue");
    expect(breedingWindow(one).earliest).toBe(T + 330 * DAY);
  });
});

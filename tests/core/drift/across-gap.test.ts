import { describe, expect, test } from "vitest";
import { unexplained } from "#core/drift/across-gap.ts";

// What must and must not be explained is the definition of the rule; numbers are invented.
const gap = (more: Partial<Parameters<typeof unexplained>[3]> = {}) => ({
  missed: 6,
  usual: 0,
  permitted: 0,
  ...more,
});

describe("a departure across a gap", () => {
  test("is whole where nothing explains it", () => {
    expect(unexplained(0.4, 0, 0, gap())).toBe(0.4);
    expect(unexplained(-0.4, 0, 0, gap())).toBe(-0.4);
  });

  test("is nothing between standing still and going on as before", () => {
    for (const size of [0, 0.3, 0.6]) expect(unexplained(size, 0.1, 0, gap())).toBe(0);
    expect(unexplained(0.7, 0.1, 0, gap())).toBeCloseTo(0.1, 12);
    expect(unexplained(-0.1, 0.1, 0, gap())).toBeCloseTo(-0.1, 12);
  });

  test("is nothing as far as these hours usually go", () => {
    expect(unexplained(-0.5, 0, 0, gap({ usual: -0.5 }))).toBe(0);
    expect(unexplained(0.5, 0, 0, gap({ usual: -0.5 }))).toBe(0.5);
  });

  test("takes off the larger of what is permitted and half pi times the usual pace, to either side", () => {
    expect(unexplained(0.5, 0, 0, gap({ permitted: 0.2 }))).toBeCloseTo(0.3, 12);
    expect(unexplained(-0.5, 0, 0, gap({ permitted: 0.2 }))).toBeCloseTo(-0.3, 12);
    const usual = (Math.PI / 2) * 0.01 * 6;
    expect(unexplained(0.5, 0, 0.01, gap())).toBeCloseTo(0.5 - usual, 12);
    expect(unexplained(0.5, 0, 0.01, gap({ permitted: 0.2 }))).toBeCloseTo(0.3, 12);
  });
});

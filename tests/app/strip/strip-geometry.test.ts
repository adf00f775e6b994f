import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { floorOf, isBeyond, placeOf, STRIP, stripScale } from "#app/_components/strip/strip-geometry.ts";
import { deviation } from "#core/habitat/index.ts";
import { edges } from "../views.ts";

const scaleOf = (band: ReturnType<typeof edges>, floor = 0) => {
  const scale = stripScale(band, floor);
  if (scale === null) throw new Error("no scale");
  return scale;
};

describe("strip scale", () => {
  it("puts edges at the quarters and limits at the ends", () => {
    const { position } = scaleOf(edges(24.5, 27, 23, 29));
    expect([23, 24.5, 25.75, 27, 29].map(position)).toEqual([-1, -0.5, 0, 0.5, 1]);
  });

  it("starts one-sided quantities at their floor", () => {
    const ammonia = scaleOf(edges(null, 0.02, null, 0.05));
    expect([0, 0.02, 0.05].map(ammonia.position)).toEqual([-1, 0.5, 1]);
    expect(ammonia.lowEnd).toBe("floor");
    const gas = scaleOf(edges(100, 101.5, null, 103), floorOf("total_gas_pressure"));
    expect([100, 101.5, 103].map(gas.position)).toEqual([-1, 0.5, 1]);
  });

  it("says which ends are open", () => {
    const oxygen = scaleOf(edges(7.5, 8.6, 7, null));
    expect([oxygen.lowEnd, oxygen.highEnd]).toEqual(["limit", "open"]);
    const flow = scaleOf(edges(88, null, 55, null));
    expect([flow.lowEnd, flow.highEnd, flow.to]).toEqual(["limit", "band", 1]);
    expect(flow.position(88)).toBe(-0.5);
    expect(flow.position(1e6)).toBe(1);
    expect(scaleOf(edges(25, 27, null, null)).lowEnd).toBe("open");
    expect(stripScale(edges(null, null, null, null), 0)).toBeNull();
  });

  it("agrees with the deviation: half of it lies past the edge's quarter", () => {
    const value = fc.double({ min: -50, max: 150, noNaN: true });
    const gap = fc.double({ min: 0.1, max: 20, noNaN: true });
    fc.assert(
      fc.property(
        value,
        fc.double({ min: 0.5, max: 60, noNaN: true }),
        gap,
        gap,
        gap,
        fc.boolean(),
        fc.boolean(),
        (v, low, wide, down, up, lower, upper) => {
          const band = edges(low, low + wide, lower ? low - down : null, upper ? low + wide + up : null);
          const past = deviation(v, band) ?? 0;
          const at = scaleOf(band).position(v);
          // An open side stops at 0.99 by definition, the drawing goes on to the rim.
          if (past === 0) expect(Math.abs(at)).toBeLessThanOrEqual(0.5 + 1e-9);
          else if (Math.abs(past) < 0.99) expect(Math.abs(at)).toBeCloseTo(0.5 + Math.abs(past) / 2, 6);
          else expect(Math.abs(at)).toBeGreaterThanOrEqual(0.99);
          if (past !== 0) expect(Math.sign(at)).toBe(Math.sign(past));
        },
      ),
    );
  });

  it("never goes backwards", () => {
    const bands = [
      edges(7.5, 8.6, 7, null),
      edges(null, 5, null, 9),
      edges(2, null, null, null),
      edges(0, 4, null, null),
    ];
    const values = fc.tuple(
      fc.double({ min: -9, max: 40, noNaN: true }),
      fc.double({ min: -9, max: 40, noNaN: true }),
    );
    for (const band of bands) {
      const { position } = scaleOf(band);
      fc.assert(
        fc.property(values, ([a, b]) => {
          expect(position(Math.min(a, b))).toBeLessThanOrEqual(position(Math.max(a, b)) + 1e-12);
        }),
      );
    }
  });

  it("keeps every mark on the strip and says when it lies beyond", () => {
    expect(placeOf(40)).toBe(STRIP.width - STRIP.margin);
    expect(placeOf(-40)).toBe(STRIP.margin);
    expect([isBeyond(1), isBeyond(1.5), isBeyond(-9)]).toEqual([false, true, true]);
  });
});

import { describe, expect, it } from "vitest";
import { chartData, nightsIn, type TailPoint, valueRange } from "#app/_components/drawing/chart-data.ts";
import { keyed } from "#app/systems/_parts/chart/chart-gestures.ts";
import { moved, notAfter, rangeOf, zoomed } from "#app/systems/_parts/chart/chart-window.ts";
import type { SeriesView } from "#contract/views.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { edges, MINUTES, NOW } from "../views.ts";

function series(
  at: number[],
  mean: (number | null)[],
  given: Partial<SeriesView> & { flag?: number[] } = {},
): SeriesView {
  const { flag, ...rest } = given;
  return {
    system: "kelp-gallery",
    point: "display",
    quantity: "temperature",
    label: "Temperature",
    unit: "Cel",
    unitLabel: "°C",
    decimals: 1,
    origin: "probe",
    resolution: "raw",
    step: null,
    from: at[0] ?? NOW,
    to: (at.at(-1) ?? NOW) + 1,
    columns: { at, min: mean, mean, max: mean, n: at.map(() => 1), flag: flag ?? at.map(() => 1) },
    next: null,
    bands: [],
    ...rest,
  };
}
const every = (step: number, n: number) => Array.from({ length: n }, (_, i) => NOW + i * step);

describe("chart data", () => {
  it("leaves a gap open where three usual steps are missing", () => {
    const at = [...every(5 * MINUTES, 5), NOW + 60 * MINUTES, NOW + 65 * MINUTES];
    const data = chartData(
      series(
        at,
        at.map(() => 15),
      ),
      null,
    );
    expect(data.gaps).toEqual([{ from: NOW + 20 * MINUTES, to: NOW + 60 * MINUTES }]);
    expect(data.mean).toEqual([15, 15, 15, 15, 15, null, 15, 15]);
    for (let i = 1; i < data.at.length; i += 1) expect(data.at[i]).toBeGreaterThan(data.at[i - 1] ?? 0);
  });

  it("joins an even line", () => {
    const at = every(5 * MINUTES, 50);
    expect(
      chartData(
        series(
          at,
          at.map(() => 1),
        ),
        null,
      ).gaps,
    ).toEqual([]);
  });

  it("sets suspect readings aside as rings and breaks the line there", () => {
    const at = every(5 * MINUTES, 4);
    const data = chartData(series(at, [15, 99, 15, 15], { flag: [1, 4, 1, 2] }), null);
    expect(data.suspect).toEqual([{ at: at[1], value: 99 }]);
    expect(data.mean[1]).toBeNull();
    expect(valueRange(data, [], 1)[1]).toBeLessThan(20);
  });

  it("draws rollups at the middle of their span, as a ribbon, with one missing bucket as a gap", () => {
    const quarter = 15 * MINUTES;
    const at = [NOW, NOW + quarter, NOW + 3 * quarter];
    const data = chartData(
      series(at, [15, 16, 17], { resolution: "15min", step: quarter, to: NOW + 4 * quarter }),
      null,
    );
    expect(data.hasRibbon).toBe(true);
    expect(data.at[0]).toBe(NOW + quarter / 2);
    expect(data.gaps).toHaveLength(1);
  });

  it("never joins bench results to the line", () => {
    const at = every(5 * MINUTES, 3);
    const bench = series([NOW + MINUTES], [14.9], { origin: "bench" });
    bench.columns.qualifier = ["<"];
    const data = chartData(series(at, [15, 15, 15]), bench);
    expect(data.bench).toEqual([{ at: NOW + MINUTES, value: 14.9, qualifier: "<" }]);
    expect(data.mean).toEqual([15, 15, 15]);
  });

  it("joins live readings on, once", () => {
    const at = every(5 * MINUTES, 3);
    const tail: TailPoint[] = [
      { at: NOW + 10 * MINUTES, value: 15, flag: 1 },
      { at: NOW + 15 * MINUTES, value: 16, flag: 1 },
      { at: NOW + 20 * MINUTES, value: 99, flag: 3 },
    ];
    const data = chartData(series(at, [15, 15, 15]), null, tail);
    expect(data.last).toEqual({ at: NOW + 15 * MINUTES, value: 16 });
    expect(data.suspect).toEqual([tail[2]]);
    expect(data.at).toHaveLength(5);
  });

  it("takes band and limits before data for the value axis", () => {
    const at = every(MINUTES, 3);
    const data = chartData(series(at, [15, 15.01, 15]), null);
    const [low, high] = valueRange(data, [{ edges: edges(14.4, 16.2, 12, 18) }], 1);
    expect(low).toBeLessThan(12);
    expect(high).toBeGreaterThan(18);
    expect(valueRange(chartData(null, null), [], 1)).toEqual([0, 1]);
    // Without a band a hundredth of a degree must not fill the chart.
    const [bottom, top] = valueRange(data, [], 1);
    expect(top - bottom).toBeGreaterThanOrEqual(4);
  });
});

describe("nights", () => {
  // IANA time zone database: in Europe/London the clock goes back at 2026-10-25 01:00 UTC, so that night has 13 hours.
  it("run from 18:00 to 06:00 site time, also over a change of the clock", () => {
    const from = Date.UTC(2026, 9, 24, 12);
    const nights = nightsIn({ from, to: from + 36 * 60 * MINUTES }, clockOf("Europe/London"));
    expect(nights).toEqual([
      { from: Date.UTC(2026, 9, 24, 17), to: Date.UTC(2026, 9, 25, 6) },
      { from: Date.UTC(2026, 9, 25, 18), to: Date.UTC(2026, 9, 26, 0) },
    ]);
  });

  it("begin in the middle where the window does", () => {
    const from = Date.UTC(2026, 5, 1, 22);
    expect(nightsIn({ from, to: from + 12 * 60 * MINUTES }, clockOf("UTC"))).toEqual([
      { from, to: Date.UTC(2026, 5, 2, 6) },
    ]);
  });
});

describe("window of time", () => {
  const span = { from: NOW - 100 * MINUTES, to: NOW };

  it("zooms around a place and stays in order", () => {
    expect(zoomed(span, 0.5, 1)).toEqual({ from: NOW - 50 * MINUTES, to: NOW });
    const tiny = zoomed(span, 0, 0.5);
    expect(tiny.to - tiny.from).toBe(10 * MINUTES);
  });

  it("moves, but not past now", () => {
    expect(moved(span, -0.5)).toEqual({ from: NOW - 150 * MINUTES, to: NOW - 50 * MINUTES });
    expect(notAfter(moved(span, 0.5), NOW)).toEqual(span);
  });

  it("obeys keys", () => {
    expect(keyed("ArrowLeft", span)).toEqual(moved(span, -0.2));
    expect(keyed("+", span)).toEqual(zoomed(span, 0.5));
    expect(keyed("Home", span)).toBe("now");
    expect(keyed("x", span)).toBeNull();
  });

  it("takes the usual range for anything it does not know", () => {
    expect([rangeOf("1y").id, rangeOf("nonsense").id, rangeOf(undefined).id]).toEqual(["1y", "3d", "3d"]);
  });
});

import { describe, expect, test } from "vitest";
import { evidenceOf, FIELD, placeOf, readable } from "#app/overnight/_parts/evidence-geometry.ts";
import type { SeriesView } from "#contract/views.ts";

const MINUTE = 60_000;
const span = { from: 0, to: 600 * MINUTE };

function series(values: readonly (number | null)[], more: Partial<SeriesView> = {}): SeriesView {
  const kept = values.flatMap((value, i) => (value === null ? [] : [{ at: i * 60 * MINUTE, value }]));
  const mean = kept.map((row) => row.value);
  return {
    system: "reef",
    point: "display",
    quantity: "temperature",
    label: "Temperature",
    unit: "Cel",
    unitLabel: "°C",
    decimals: 1,
    origin: "probe",
    resolution: "raw",
    step: null,
    from: span.from,
    to: span.to,
    columns: {
      at: kept.map((row) => row.at),
      min: mean,
      mean,
      max: mean,
      n: mean.map(() => 1),
      flag: mean.map(() => 1),
    },
    next: null,
    bands: [
      {
        from: span.from,
        to: span.to,
        edges: { low: 24, high: 27, actionLow: 22, actionHigh: 29, urgentLow: null, urgentHigh: null },
      },
    ],
    ...more,
  };
}
const HOURLY = [25, 25, 25.5, 26, 26.5, 27, 27.5, 28, 28.5, 29, 29.5];

describe("the small chart beside a finding", () => {
  test("higher values lie higher, earlier ones further left, within the field", () => {
    const found = evidenceOf(series(HOURLY), span);
    const points = [...(found?.line ?? "").matchAll(/[ML]([\d.]+) ([\d.]+)/g)].map(([, x, y]) => [
      Number(x),
      Number(y),
    ]);
    expect(points).toHaveLength(11);
    expect(points[0]?.[0]).toBe(FIELD.left);
    expect(points.at(-1)?.[0]).toBe(FIELD.right);
    expect(points.at(-1)?.[1]).toBeLessThan(points[0]?.[1] ?? 0);
    expect(found).toMatchObject({ least: "25.0", most: "29.5", last: { label: "29.5" }, silence: null });
    expect(found?.band?.top).toBeLessThan(found?.band?.bottom ?? 0);
  });

  test("a gap is not bridged, and a probe that fell silent is not drawn to the end", () => {
    const gap = evidenceOf(series([25, 25, 25, null, null, null, null, null, 25, 25, 25]), span);
    expect(gap?.line.match(/M/g)).toHaveLength(2);
    const silent = evidenceOf(series([25, 25, 25, 25, 25, 25]), span);
    expect(silent?.silence).toEqual({ from: placeOf(300 * MINUTE, span), to: FIELD.right });
  });

  test("bench results are squares, never joined", () => {
    const found = evidenceOf(series([25, null, null, null, null, 26], { origin: "bench" }), span);
    expect(found?.squares).toHaveLength(2);
    expect(found?.line).toBe("");
    expect(found?.last?.label).toBe("26.0");
  });

  test("nothing read, nothing drawn", () => {
    expect(evidenceOf(series([]), span)).toBeNull();
  });

  test("labels that would overlap are left out, edges kept before limits", () => {
    const level = (y: number, label: string) => ({ y, label, isLimit: false });
    expect(
      readable([level(50, "27.0"), level(20, "29.0"), level(45, "27.4")]).map((row) => row.label),
    ).toEqual(["27.0", "29.0"]);
  });
});

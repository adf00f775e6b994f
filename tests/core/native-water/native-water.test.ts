import * as fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { openClimatology } from "#climate/open.ts";
import {
  type Climatology,
  climatologyOf,
  FARTHEST_BOX,
  greatCircle,
  nativeWaterAt,
} from "#core/native-water/index.ts";

let table: Climatology;
beforeAll(async () => {
  table = await openClimatology()();
});

/** A table of one surface layer of 2 x 2 boxes of 2 degrees from 0, 0; `values` by month, row, column; null is missing. */
function tinyTable(month: (m: number, row: number, column: number) => number | null): Uint8Array {
  const head = JSON.stringify({
    version: 1,
    missing: -32768,
    scale: 100,
    layers: [
      {
        name: "coads",
        quantity: "temperature",
        unit: "Cel",
        depth: 0,
        months: 12,
        west: 0,
        south: 0,
        step: 2,
        columns: 2,
        rows: 2,
      },
    ],
  }).padEnd(400);
  const bytes = new Uint8Array(8 + head.length + 12 * 4 * 2);
  const view = new DataView(bytes.buffer);
  bytes.set(new TextEncoder().encode("HWNW"));
  view.setUint32(4, head.length, true);
  bytes.set(new TextEncoder().encode(head), 8);
  for (let m = 0; m < 12; m += 1)
    for (let cell = 0; cell < 4; cell += 1) {
      const value = month(m, Math.floor(cell / 2), cell % 2);
      view.setInt16(8 + head.length + 2 * (4 * m + cell), value === null ? -32768 : value * 100, true);
    }
  return bytes;
}

describe("great circle", () => {
  it("is a quarter of a meridian from pole to equator: 10,007.5 km on a sphere of the IUGG mean radius", () => {
    // Source: pi/2 times 6371.0088 km.
    expect(greatCircle({ latitude: 90, longitude: 0 }, { latitude: 0, longitude: 77 })).toBeCloseTo(
      10007.557,
      2,
    );
  });
  it("is short across the date line", () => {
    const across = greatCircle({ latitude: 0, longitude: 179.5 }, { latitude: 0, longitude: -179.5 });
    expect(across).toBeCloseTo(111.195, 2);
  });
});

describe("native water", () => {
  it("leaves a box with one month missing out and takes the next complete one, saying which", () => {
    const tiny = climatologyOf(
      tinyTable((m, row, column) => (row === 0 && column === 0 && m === 6 ? null : 10 + row + column)),
    );
    const found = nativeWaterAt(tiny, { latitude: 0.1, longitude: 0.2 });
    expect(found).toMatchObject({ ok: true, water: { box: { latitude: 0, longitude: 2 }, spread: null } });
    expect(found.ok && found.water.temperature).toEqual(Array.from({ length: 12 }, () => 11));
  });
  it("refuses a place whose nearest complete box lies beyond 300 km, and takes one just inside", () => {
    const tiny = climatologyOf(tinyTable(() => 12));
    // One degree of the equator is 111.195 km: 2.69 degrees are 299.1 km, 2.70 are 300.2.
    expect(nativeWaterAt(tiny, { latitude: 0, longitude: -2.69 }).ok).toBe(true);
    expect(nativeWaterAt(tiny, { latitude: 0, longitude: -2.7 })).toMatchObject({ ok: false });
  });
  it("says nothing inland, outside the coordinates and at a depth it does not have", () => {
    expect(nativeWaterAt(table, { latitude: 47, longitude: 90 }).ok).toBe(false);
    expect(nativeWaterAt(table, { latitude: 91, longitude: 0 })).toMatchObject({
      says: "latitude 91 is outside -90 to 90",
    });
    expect(nativeWaterAt(table, { latitude: Number.NaN, longitude: 0 }).ok).toBe(false);
    expect(nativeWaterAt(table, { latitude: 0, longitude: -30 }, 33)).toMatchObject({
      remedy: "use one of 0, 20, 50, 100, 200 m",
    });
  });
  it("finds across the date line what it finds beside it", () => {
    const east = nativeWaterAt(table, { latitude: -17, longitude: 180 });
    const west = nativeWaterAt(table, { latitude: -17, longitude: -180 });
    expect(east.ok && west.ok && east.water.box).toEqual(west.ok && west.water.box);
  });
  it("gives twelve believable months from a box within 300 km, wherever it gives any", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -90, max: 90, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        (latitude, longitude) => {
          const found = nativeWaterAt(table, { latitude, longitude });
          if (!found.ok) return;
          const { water } = found;
          expect(water.distance).toBeLessThanOrEqual(FARTHEST_BOX);
          expect(greatCircle(water.box, { latitude, longitude })).toBeCloseTo(water.distance, 1);
          expect(water.temperature).toHaveLength(12);
          for (const value of water.temperature) {
            expect(value).toBeGreaterThan(-3);
            expect(value).toBeLessThan(36);
          }
          for (const hours of water.dayLength) expect(hours >= 0 && hours <= 24).toBe(true);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe("the table's bytes", () => {
  it("are refused where they are another file or end too soon", () => {
    expect(() => climatologyOf(new TextEncoder().encode("GIF89a and more"))).toThrow(/begins with HWNW/);
    expect(() => climatologyOf(tinyTable(() => 12).subarray(0, 450))).toThrow(/ends inside its layer coads/);
  });
});

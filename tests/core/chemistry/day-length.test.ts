import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CIVIL_HORIZON, dayLength } from "#core/chemistry/index.ts";

const hours = (latitude: number, date: string) => dayLength({ latitude, longitude: 0, date }).value as number;

describe("day length", () => {
  it.each([
    // Source: series of the NOAA solar calculator, sun's centre 0.833 degrees below the horizon (from memory).
    [50, "2026-06-21", 16.37],
    [50, "2026-12-21", 8.07],
    [-27.5, "2026-01-15", 13.7],
    [-27.5, "2026-07-15", 10.6],
  ])("at %s degrees on %s is %s h", (latitude, date, expected) => {
    expect(Math.abs(hours(latitude, date) - expected)).toBeLessThan(0.06);
  });

  it("is about 12 h 7 min at the equator the whole year, not 12 h", () => {
    for (const month of ["01", "04", "07", "10"]) expect(hours(0, `2026-${month}-15`)).toBeCloseTo(12.12, 1);
  });

  it("is 24 h at the north cape of the year and 0 h half a year later", () => {
    expect(dayLength({ latitude: 75, longitude: 20, date: "2026-06-21" })).toMatchObject({
      value: 24,
      sun: "never_sets",
    });
    expect(dayLength({ latitude: 75, longitude: 20, date: "2026-12-21" })).toMatchObject({
      value: 0,
      sun: "never_rises",
    });
    expect(dayLength({ latitude: 90, longitude: 0, date: "2026-06-21" }).value).toBe(24);
    expect(dayLength({ latitude: -90, longitude: 0, date: "2026-06-21" }).value).toBe(0);
  });

  it("keeps its events around noon, however far from Greenwich, and lengthens with the horizon's depth", () => {
    const latitude = fc.double({ min: -65, max: 65, noNaN: true });
    const longitude = fc.double({ min: -180, max: 180, noNaN: true });
    const day = fc.integer({ min: 0, max: 36_524 });
    fc.assert(
      fc.property(latitude, longitude, day, (lat, lon, days) => {
        const date = new Date(Date.UTC(1950, 0, 1) + days * 86_400_000).toISOString().slice(0, 10);
        const one = dayLength({ latitude: lat, longitude: lon, date });
        const twilight = dayLength({ latitude: lat, longitude: lon, date, horizon: CIVIL_HORIZON });
        expect(one.noon).toBeGreaterThan(720 - 4 * lon - 18);
        expect(one.noon).toBeLessThan(720 - 4 * lon + 18);
        if (one.sun !== "normal" || one.rise === null || one.set === null) return;
        expect(one.value).toBeCloseTo((one.set - one.rise) / 60, 9);
        expect(one.rise).toBeLessThan(one.noon as number);
        expect(one.set).toBeGreaterThan(one.noon as number);
        expect(twilight.value).toBeGreaterThan(one.value as number);
      }),
    );
  });

  it("changes by less than five minutes from day to day below 55 degrees", () => {
    // Source: at 50 degrees daylight changes about 3.7 min a day near the equinox (series of the NOAA solar calculator).
    let before = hours(54, "2026-01-01");
    for (let days = 1; days < 365; days += 1) {
      const date = new Date(Date.UTC(2026, 0, 1 + days)).toISOString().slice(0, 10);
      const now = hours(54, date);
      expect(Math.abs(now - before) * 60, date).toBeLessThan(5);
      before = now;
    }
  });

  it("refuses what is no date and no place", () => {
    for (const date of [
      "2026-02-30",
      "2026-13-01",
      "26-01-01",
      "0050-01-01",
      "2026-1-1",
      "",
      "2026-01-01T00:00",
    ]) {
      expect(dayLength({ latitude: 0, longitude: 0, date }), date).toMatchObject({
        value: null,
        status: "invalid",
      });
    }
    expect(dayLength({ latitude: 91, longitude: 0, date: "2026-01-01" }).status).toBe("invalid");
    expect(dayLength({ latitude: 0, longitude: 181, date: "2026-01-01" }).status).toBe("invalid");
    expect(dayLength({ latitude: 0, longitude: 0, date: "2026-01-01", horizon: 30 }).status).toBe("invalid");
    expect(dayLength({ latitude: 0, longitude: 0, date: "2150-01-01" }).status).toBe("extrapolated");
  });
});

/** Far years, and the edges of what may be asked. */
import { describe, expect, it } from "vitest";
import { dayLength, SUNRISE_HORIZON } from "#core/chemistry/index.ts";

const ask = (date: string, latitude = 50, longitude = 0, horizon?: number) =>
  dayLength({ date, latitude, longitude, ...(horizon === undefined ? {} : { horizon }) });

describe("far from the year 2000", () => {
  // Minutes after 0h UTC of rise, noon and set, the sun's centre 50' below the horizon without air: computed with PyEphem 4.1.4, whose
  // sun is that of VSOP87. It follows the meridian's own rates, so 0.07 min is granted.
  it.each<[string, number, number, number, number, number]>([
    ["1901-01-20", 52, 0, 477.26, 731.13, 985.48],
    ["1901-04-10", -35, 120, -101.08, 241.57, 583.72],
    ["1905-07-15", 55, -60, 460.01, 965.68, 1470.45],
    ["1910-10-30", 20, 150, -239.97, 103.81, 447.35],
    ["1925-02-25", -50, -70, 603.42, 1013.24, 1422.0],
    ["1950-05-12", 45, 10, 235.3, 676.27, 1117.98],
    ["2050-08-20", -40, -120, 880.79, 1203.31, 1526.36],
    ["2075-11-05", 58, 30, 323.3, 583.54, 842.95],
    ["2090-03-08", 30, -10, 417.56, 770.55, 1123.99],
    ["2099-01-05", 50, 0, 477.57, 725.36, 973.41],
    ["2099-06-01", -55, 100, 91.99, 318.02, 543.73],
    ["2099-09-22", 35, -150, 948.52, 1312.51, 1675.94],
  ])("%s at %s, %s", (date, latitude, longitude, rise, noon, set) => {
    const day = ask(date, latitude, longitude);
    const away = [(day.rise ?? 0) - rise, (day.noon ?? 0) - noon, (day.set ?? 0) - set];
    for (const minutes of away) expect(Math.abs(minutes)).toBeLessThan(0.07);
  });
});

describe("what may be asked", () => {
  it.each<[string, string, "ok" | "extrapolated"]>([
    ["1900-01-01", "first", "ok"],
    ["1899-12-31", "before", "extrapolated"],
    ["2100-12-31", "last", "ok"],
    ["2101-01-01", "after", "extrapolated"],
  ])("%s is the %s of the years it holds for", (date, _which, status) => {
    const day = ask(date);
    expect(day.status).toBe(status);
    if (status === "ok") expect(day.note).toBeNull();
    else expect(day.note).toMatch(/1900 to 2100/);
  });

  it.each([
    "2026-02-29",
    "2026-13-01",
    "2026-00-10",
    "2026-04-31",
    "2026-04-00",
    "0026-04-10",
    "x2026-04-10",
    "2026-04-10x",
    "2026-4-10",
    "2026-04",
    "",
  ])('"%s" is no date, and is said back', (date) => {
    const day = ask(date);
    expect(day).toMatchObject({
      value: null,
      status: "invalid",
      sun: null,
      noon: null,
      rise: null,
      set: null,
    });
    expect(day.note).toMatch(/is not a date: write YYYY-MM-DD/);
    expect(day.note).toContain(date);
  });

  it.each<[string, number, number, number | undefined, RegExp | null]>([
    ["the pole", 90, 0, undefined, null],
    ["beyond the pole", 90.1, 0, undefined, /latitude/],
    ["the date line", 50, 180, undefined, null],
    ["beyond the date line", 50, -180.1, undefined, /longitude/],
    ["the true horizon", 50, 0, 0, null],
    ["astronomical twilight", 50, 0, 18, null],
    ["above the horizon", 50, 0, -0.1, /horizon is outside 0 to 18/],
    ["below any twilight", 50, 0, 18.1, /horizon is outside 0 to 18/],
    ["no place", Number.NaN, 0, undefined, /not a finite number/],
    ["no horizon", 50, 0, Number.NaN, /not a finite number/],
  ])("%s", (_name, latitude, longitude, horizon, reason) => {
    const day = ask("2026-04-10", latitude, longitude, horizon);
    if (reason === null) expect(day.status).toBe("ok");
    else {
      expect(day.value).toBeNull();
      expect(day.note).toMatch(reason);
    }
  });

  it("takes the usual horizon where none is named", () => {
    expect(ask("2026-04-10")).toEqual(ask("2026-04-10", 50, 0, SUNRISE_HORIZON));
  });
});

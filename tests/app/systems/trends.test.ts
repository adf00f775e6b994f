import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ticksOf } from "#app/systems/_parts/lane/time-ticks.ts";
import { readAddress, writeAddress, yearBefore } from "#app/systems/_parts/trend/trend-address.ts";
import { folded } from "#app/systems/_parts/trend/trend-fold.ts";
import { trendRows } from "#app/systems/_parts/trend/trend-rows.ts";
import { benchWords } from "#app/systems/_parts/trend/trend-words.ts";
import type { SeriesView, StreamState } from "#contract/views.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { edges, NOW, stream, system } from "../views.ts";

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const london = clockOf("Europe/London");

describe("the address of a System page", () => {
  it("says range, window and comparison, and is read as it was written", () => {
    const whole = {
      range: "2w",
      window: { from: Date.UTC(2026, 1, 3, 4, 5), to: Date.UTC(2026, 1, 5) },
      compare: { with: "system", system: "kelp-gallery" },
    } as const;
    const text = writeAddress(whole);
    expect(text).toBe("?range=2w&from=2026-02-03T04:05:00Z&to=2026-02-05T00:00:00Z&compare=kelp-gallery");
    expect(readAddress(Object.fromEntries(new URLSearchParams(text)))).toEqual(whole);
  });

  it("keeps any window to the second", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 4e9 }),
        fc.integer({ min: 60, max: 4e7 }),
        fc.constantFrom("nothing", "year"),
        (from, length, what) => {
          const address = {
            range: "12h",
            window: { from: from * 1000, to: (from + length) * 1000 },
            compare: { with: what as "nothing" | "year" },
          } as const;
          expect(readAddress(Object.fromEntries(new URLSearchParams(writeAddress(address))))).toEqual(
            address,
          );
        },
      ),
    );
  });

  it("opens at the usual range where it is not understood", () => {
    const strange = { range: "99y", from: "yesterday", to: "2026-02-05T00:00:00Z", compare: "<script>" };
    expect(readAddress(strange)).toEqual({ range: "3d", window: null, compare: { with: "nothing" } });
  });

  it("goes back 366 days over a leap day and 365 otherwise", () => {
    expect(yearBefore(Date.UTC(2028, 5, 1)) / DAY).toBe(366);
    expect(yearBefore(Date.UTC(2026, 5, 1)) / DAY).toBe(365);
  });
});

describe("times over the charts", () => {
  const labels = (from: number, to: number, most = 9) =>
    ticksOf({ from, to }, london, most).map((t) => t.label);

  it("name days at the site's midnight and hours between", () => {
    const from = Date.UTC(2026, 9, 29, 9);
    expect(labels(from, from + 3 * DAY)).toEqual([
      "12:00",
      "Fri 30 Oct",
      "12:00",
      "Sat 31 Oct",
      "12:00",
      "Sun 1 Nov",
    ]);
  });

  it("hold the site's midnight over the change of the clock (Europe/London, 25 October 2026)", () => {
    const ticks = ticksOf({ from: Date.UTC(2026, 9, 23, 12), to: Date.UTC(2026, 9, 28, 12) }, london, 9);
    expect(ticks.every((t) => london.hour(t.at) % 24 === 0)).toBe(true);
    expect(ticks.map((t) => t.at)).toContain(Date.UTC(2026, 9, 24, 23));
    expect(ticks.map((t) => t.at)).toContain(Date.UTC(2026, 9, 26, 0));
  });

  it("name months over a year, and the year where it begins", () => {
    expect(labels(Date.UTC(2025, 9, 10), Date.UTC(2026, 9, 10), 12)).toEqual([
      "Nov",
      "Dec",
      "2026",
      "Feb",
      "Mar",
      "Apr",
      "May",
      "Jun",
      "Jul",
      "Aug",
      "Sep",
      "Oct",
    ]);
  });

  it("are never more than was asked for by much, whatever the window", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 10, max: 5 * 366 * 1440 }),
        fc.integer({ min: 0, max: 366 * 1440 }),
        (length, start) => {
          const from = Date.UTC(2025, 0, 1) + start * 60_000;
          const ticks = ticksOf({ from, to: from + length * 60_000 }, london, 9);
          expect(ticks.length).toBeLessThanOrEqual(11);
          expect(ticks.every((t, i) => i === 0 || t.at > (ticks[i - 1]?.at ?? 0))).toBe(true);
        },
      ),
      { numRuns: 50 },
    );
  });
});

describe("rows without anything to draw", () => {
  const span = { from: NOW - 3 * DAY, to: NOW };
  const bench = stream({ quantity: "nitrate", label: "Nitrate", origin: "bench", at: NOW - 8 * DAY });
  const named = (all: Parameters<typeof system>[1], opened: string[] = []) => {
    const state = system("a", all);
    return folded(trendRows(state), state, span, new Set(opened)).named.map((r) => r.main.quantity);
  };

  it("are named below, and charted when they are opened or ask for somebody", () => {
    expect(named([stream(), bench])).toEqual(["nitrate"]);
    expect(named([stream(), bench], ["nitrate display"])).toEqual([]);
    expect(named([stream(), { ...bench, standing: "action" }])).toEqual([]);
    expect(named([stream(), { ...bench, at: NOW - DAY }])).toEqual([]);
  });

  it("include raw conductivity beside its salinity, but not alone and not with a band", () => {
    const raw = stream({ quantity: "conductivity", label: "Conductivity", band: null });
    const salinity = stream({ quantity: "salinity", label: "Salinity", origin: "derived" });
    expect(named([raw, salinity])).toEqual(["conductivity"]);
    expect(named([raw])).toEqual([]);
    expect(named([{ ...raw, band: edges(40, 55, 35, 60) }, salinity])).toEqual([]);
  });
});

describe("rows of make-up water", () => {
  const at = (role: StreamState["role"]) => {
    const state = system("a", [
      stream(),
      stream({ label: "pH", quantity: "ph", point: "tap", role, band: null }),
    ]);
    const span = { from: NOW - 3 * DAY, to: NOW };
    return folded(trendRows(state), state, span, new Set()).named.map((r) => r.main.point);
  };

  it("are named below, whatever the point is called; water of the system is charted", () => {
    expect(at("make-up")).toEqual(["tap"]);
    expect(at("sump")).toEqual([]);
  });

  it("come in the order of the rack, the exhibit first of one quantity", () => {
    const state = system("a", [
      stream({ point: "a-sump", role: "sump" }),
      stream({ point: "b-lagoon", role: "exhibit" }),
    ]);
    expect(trendRows(state).map((row) => row.main.point)).toEqual(["b-lagoon", "a-sump"]);
  });
});

describe("what the bench said beside the probe", () => {
  const view = (at: number[], mean: number[], step: number | null): SeriesView => ({
    system: "a",
    point: "display",
    quantity: "ph",
    label: "pH",
    unit: "[pH]",
    unitLabel: "",
    decimals: 2,
    origin: "probe",
    resolution: step === null ? "raw" : "3h",
    step,
    from: 0,
    to: NOW,
    columns: { at, min: mean, mean, max: mean, n: at.map(() => 1), flag: at.map(() => 1) },
    next: null,
    bands: [],
  });
  const ph = stream({ quantity: "ph", label: "pH", decimals: 2 });
  const test = view([NOW - 2 * HOUR], [8.1], null);
  const said = (series: SeriesView | null) => benchWords(ph, series, test, clockOf("UTC"), NOW);

  it("agrees, or says by how much and to which side the probe read otherwise then", () => {
    expect(said(view([NOW - 2 * HOUR - 300_000], [8.102], null))).toBe("bench 8.10, 05:12: agrees");
    expect(said(view([NOW - 2 * HOUR + 300_000], [8.15], null))).toBe("bench 8.10, 05:12: probe 0.05 above");
    expect(said(view([NOW - 2 * HOUR], [7.98], null))).toBe("bench 8.10, 05:12: probe 0.12 below");
  });

  it("does not compare with a reading of another hour, nor with the mean of three hours", () => {
    expect(said(view([NOW - HOUR], [8.15], null))).toBe("bench 8.10, 05:12");
    expect(said(view([NOW - 3 * HOUR], [8.15], 3 * HOUR))).toBe("bench 8.10, 05:12");
    expect(said(null)).toBe("bench 8.10, 05:12");
  });
});

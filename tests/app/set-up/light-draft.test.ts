import { describe, expect, it } from "vitest";
import {
  daylightMonths,
  lightDraft,
  lightWrong,
  onOff,
  scheduleOf,
} from "#app/set-up/_parts/light/light-draft.ts";
import { lightPlanRequest } from "#contract/light-plans.ts";

const EMPTY = lightDraft(null);
const said = { reason: "as at home", source: "computed" };

describe("a light schedule as it is typed", () => {
  it("makes a length and a middle of two clock times, over midnight too, as the service takes them", () => {
    const of = (on: string, off: string) => scheduleOf({ ...EMPTY, on, off });
    expect(of("07:45", "18:15")).toEqual({ hours: [10.5], middle: "13:00", latitude: null, shiftDays: 0 });
    expect(of("20:00", "08:00")).toMatchObject({ hours: [12], middle: "02:00" });
    expect(lightPlanRequest.parse({ ...of("07:45", "18:15"), ...said })).toMatchObject({ hours: [10.5] });
  });
  it("names what is wrong at its field, and makes nothing of it", () => {
    const wrong = { ...EMPTY, on: "", off: "25:00", latitude: "91", shift: "1.5" };
    expect(Object.keys(lightWrong(wrong)).sort()).toEqual(["latitude", "off", "on", "shiftDays"]);
    expect(scheduleOf(wrong)).toBeNull();
    expect(lightWrong({ ...EMPTY, on: "08:00", off: "08:00" })).toMatchObject({
      off: expect.stringContaining("length for each month"),
    });
    const months = EMPTY.months.map((typed, i) => (i === 2 ? "25" : typed));
    expect(lightWrong({ ...EMPTY, shape: "months", months, middle: "noon" })).toEqual({
      middle: "required, a time such as 13:00",
      month3: "hours from 0 to 24",
    });
  });
  it("opens with the schedule in force and gives it back unchanged", () => {
    const clock = { hours: [10.5], middle: "13:00", latitude: 33, shiftDays: 0 };
    const months = {
      hours: [10.2, 11, 11.9, 13, 13.8, 14.3, 14.1, 13.4, 12.4, 11.4, 10.5, 10],
      middle: "12:30",
      latitude: -33.5,
      shiftDays: 182,
    };
    for (const plan of [clock, months]) expect(scheduleOf(lightDraft(plan))).toEqual(plan);
  });
  it("takes the daylight of a latitude: longest in June in the north, in December half a year on", () => {
    // Source: NOAA solar calculator series, 33 N: 14.3 h in mid-June, 10.0 h in mid-December.
    const north = (daylightMonths(33, 0, 2026) ?? []).map(Number);
    expect(north[5]).toBeCloseTo(14.3, 1);
    expect(north[11]).toBeCloseTo(10.0, 0);
    const turned = (daylightMonths(33, 182, 2026) ?? []).map(Number);
    expect(turned.indexOf(Math.max(...turned))).toBe(11);
    expect(daylightMonths(120, 0, 2026)).toBeNull();
  });
  it("says when lamps go on and off, also about midnight, and where they never do", () => {
    expect(onOff(10.5, "13:00")).toBe("07:45 to 18:15");
    expect(onOff(12, "02:00")).toBe("20:00 to 08:00");
    expect([onOff(0, "13:00"), onOff(24, "13:00"), onOff(25, "13:00"), onOff(5, "x")]).toEqual([
      "dark all day",
      "lit all day",
      "",
      "",
    ]);
  });
});

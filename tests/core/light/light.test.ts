import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  dayLightOf,
  endedBy,
  isVoid,
  judgeDay,
  type LightSample,
  type LightSchedule,
  lightFindings,
  nativeHours,
  plannedHours,
  plannedMiddle,
  scheduleAt,
  scheduleWords,
  withdrawnFrom,
} from "#core/light/index.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { siteDay } from "#core/time/site-time.ts";

const ZONE = "Europe/London";
const QUARTER = 15 * MINUTE;
/** Ten and a half hours all year about 13:00, following 33 degrees north. */
const PLAN: LightSchedule = { hours: [10.5], middle: "13:00", latitude: 33, shiftDays: 0 };

/** Samples every quarter hour of a lamp that ramps over 30 min about its on and off, read at second 40 of the quarter. */
function lamp(
  from: number,
  to: number,
  on: (day: number) => number,
  off: (day: number) => number,
): LightSample[] {
  const samples: LightSample[] = [];
  for (let at = from + 40_000; at < to; at += QUARTER) {
    const { start } = siteDay(at, ZONE);
    const inside = Math.min(at - on(start), off(start) - at);
    samples.push({ at, value: 0.8 + 900 * Math.min(1, Math.max(0, inside / (30 * MINUTE) + 0.5)) });
  }
  return samples;
}
function daysOf(from: number, to: number): { start: number; end: number }[] {
  const days = [];
  for (let day = siteDay(from, ZONE); day.start < to; day = siteDay(day.end + HOUR, ZONE)) days.push(day);
  return days;
}

describe("a day's light", () => {
  const start = Date.UTC(2026, 10, 10);
  it("is 10 h 30 min from 07:45 to 18:15 for a lamp planned so, to two minutes", () => {
    const samples = lamp(
      start - DAY,
      start + 2 * DAY,
      (day) => day + 7.75 * HOUR,
      (day) => day + 18.25 * HOUR,
    );
    const day = dayLightOf(samples, start, start + DAY);
    expect(day.hours).toBeCloseTo(10.5, 1);
    expect(Math.abs((day.dawn ?? 0) - (start + 7.75 * HOUR))).toBeLessThan(2 * MINUTE);
    expect(Math.abs((day.dusk ?? 0) - (start + 18.25 * HOUR))).toBeLessThan(2 * MINUTE);
    expect(day).toMatchObject({ breaks: 0 });
  });
  it("does not count an hour of failed lamps at noon as light, and says that it broke once", () => {
    const samples = lamp(
      start,
      start + DAY,
      (day) => day + 8 * HOUR,
      (day) => day + 18 * HOUR,
    ).map((sample) =>
      sample.at >= start + 12 * HOUR && sample.at < start + 13 * HOUR ? { ...sample, value: 0.8 } : sample,
    );
    const day = dayLightOf(samples, start, start + DAY);
    expect(day.hours).toBeGreaterThan(8.7);
    expect(day.hours).toBeLessThan(9.3);
    expect(day.breaks).toBe(1);
  });
  it("is not known where a third of the day was not measured, and 0 h where it was dark", () => {
    const samples = lamp(
      start,
      start + DAY,
      (day) => day + 8 * HOUR,
      (day) => day + 18 * HOUR,
    );
    const holed = samples.filter(({ at }) => at < start + 9 * HOUR || at > start + 17 * HOUR);
    expect(dayLightOf(holed, start, start + DAY).hours).toBeNull();
    expect(dayLightOf([], start, start + DAY).hours).toBeNull();
    const dark = samples.map(({ at }) => ({ at, value: 0.8 }));
    expect(dayLightOf(dark, start, start + DAY)).toMatchObject({ hours: 0, dawn: null });
  });
  it("has 23 or 25 hours to be lit in on the days of a clock change", () => {
    const always = lamp(
      Date.UTC(2026, 9, 24),
      Date.UTC(2026, 9, 27),
      () => 0,
      () => 4e12,
    );
    const { start: from, end } = siteDay(Date.UTC(2026, 9, 25, 12), ZONE);
    expect(dayLightOf(always, from, end).hours).toBeCloseTo(25, 5);
  });
});

describe("what was planned", () => {
  it("runs linearly between the 15ths: 10.91 h on 1 November between 11.4 and 10.5", () => {
    const hours = [10.2, 11, 11.9, 13, 13.8, 14.3, 14.1, 13.4, 12.4, 11.4, 10.5, 10];
    // By hand: 11.4 - 0.9 x 17/31 at midnight of 1 November.
    expect(plannedHours({ hours }, Date.UTC(2026, 10, 1), "UTC")).toBeCloseTo(10.906, 3);
  });
  it("has its middle at a local clock time, in summer and in winter", () => {
    expect(plannedMiddle(PLAN, siteDay(Date.UTC(2026, 6, 1), ZONE).start, ZONE)).toBe(
      Date.UTC(2026, 6, 1, 12),
    );
    expect(plannedMiddle(PLAN, siteDay(Date.UTC(2026, 11, 1), ZONE).start, ZONE)).toBe(
      Date.UTC(2026, 11, 1, 13),
    );
  });
  it("turns the calendar round for animals of the other hemisphere: July at 27.5 S, half a year on, is January there", () => {
    const july = Date.UTC(2026, 6, 15, 12);
    // Source: NOAA series, sun's centre 0.833 degrees below the horizon: 10.6 h in July, 13.7 h in January.
    expect(nativeHours(-27.5, 0, july, ZONE)).toBeCloseTo(10.6, 1);
    expect(nativeHours(-27.5, 184, july, ZONE)).toBeCloseTo(13.7, 1);
  });
});

describe("light judged by the day", () => {
  /** Two weeks about the clock change of 25 October 2026 at a site in London. */
  const from = Date.UTC(2026, 9, 18, 12);
  const to = Date.UTC(2026, 10, 1, 12);
  const judged = (samples: readonly LightSample[]) =>
    daysOf(from, to).map(({ start, end }) => judgeDay(dayLightOf(samples, start, end), PLAN, ZONE));

  it("finds a timer that stayed on summer time: an hour early from the day of the change, length right", () => {
    const middle = (day: number) => plannedMiddle(PLAN, siteDay(day, ZONE).start, ZONE);
    const change = Date.UTC(2026, 9, 25, 1);
    const late = (day: number) => (day + 12 * HOUR >= change ? -HOUR : 0);
    const samples = lamp(
      from - DAY,
      to + DAY,
      (d) => middle(d) + late(d) - 5.25 * HOUR,
      (d) => middle(d) + late(d) + 5.25 * HOUR,
    );
    const days = judged(samples);
    const findings = lightFindings(days);
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({
      kind: "clock",
      severity: "action",
      to: null,
      from: Date.UTC(2026, 9, 24, 23),
      clockChange: Date.UTC(2026, 9, 24, 23),
    });
    expect(findings[0]?.off).toBeCloseTo(-60, -0.5);
    for (const day of days) expect(Math.abs(day.lengthOff ?? 99)).toBeLessThan(15);
  });
  it("finds lamps that burn 45 min short for four days as hours, not as phase", () => {
    const short = (day: number) =>
      day >= Date.UTC(2026, 9, 20) && day < Date.UTC(2026, 9, 24) - HOUR ? 22.5 * MINUTE : 0;
    const middle = (day: number) => plannedMiddle(PLAN, siteDay(day, ZONE).start, ZONE);
    const samples = lamp(
      from - DAY,
      to + DAY,
      (d) => middle(d) - 5.25 * HOUR + short(siteDay(d, ZONE).start + 2 * HOUR),
      (d) => middle(d) + 5.25 * HOUR - short(siteDay(d, ZONE).start + 2 * HOUR),
    );
    const findings = lightFindings(judged(samples));
    expect(findings).toEqual([
      expect.objectContaining({ kind: "hours", severity: "look", days: 4, from: Date.UTC(2026, 9, 19, 23) }),
    ]);
    expect(findings[0]?.to).toBe(Date.UTC(2026, 9, 23, 23));
  });
  it("finds nothing on a day of good light, and says nothing of a day without", () => {
    const middle = (day: number) => plannedMiddle(PLAN, siteDay(day, ZONE).start, ZONE);
    const samples = lamp(
      from - DAY,
      to + DAY,
      (d) => middle(d) - 5.25 * HOUR,
      (d) => middle(d) + 5.25 * HOUR,
    );
    expect(lightFindings(judged(samples))).toEqual([]);
    expect(lightFindings(judged([]))).toEqual([]);
  });
});

describe("schedules that follow each other", () => {
  const dated = (validFrom: number, validTo: number | null, recordedAt: number) => ({
    ...PLAN,
    validFrom,
    validTo,
    recordedAt,
  });
  it("leaves every instant under the schedule it was under before, once the newest is withdrawn", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 1, maxLength: 8 }), (starts) => {
        const set = (all: ReturnType<typeof dated>[], from: number, i: number) => {
          const ended = endedBy(all, from);
          return [
            ...all.map((each) => ended.find((e) => e.recordedAt === each.recordedAt) ?? each),
            dated(from, null, i),
          ];
        };
        // Only what begins after the last one so far: a schedule set back in time also ends those that were to come.
        const rising = [...starts].sort((a, b) => a - b);
        const before = rising.slice(0, -1).reduce(set, []);
        const after = set(before, rising.at(-1) ?? 0, rising.length);
        const newest = after.at(-1);
        if (!newest) throw new Error("nothing was set");
        const changed = withdrawnFrom(after, newest);
        const withdrawn = after.map((each) => changed.find((e) => e.recordedAt === each.recordedAt) ?? each);
        expect(withdrawn.filter((each) => each.recordedAt === newest.recordedAt).every(isVoid)).toBe(true);
        for (let at = 0; at <= 41; at += 1) {
          // One that begins with the withdrawn one was replaced from its very beginning: nothing is left of it to go on.
          if (at >= newest.validFrom && rising.at(-2) === newest.validFrom) continue;
          expect(scheduleAt(withdrawn, at)?.recordedAt ?? null).toBe(
            scheduleAt(before, at)?.recordedAt ?? null,
          );
        }
      }),
    );
  });
  it("is withdrawn once, and says what it plans", () => {
    const plan = dated(5, 5, 1);
    expect(withdrawnFrom([plan], plan)).toEqual([]);
    expect(scheduleWords(PLAN)).toBe("10.5 h a day, centred on 13:00, following 33 degrees north");
    expect(scheduleWords({ hours: [9, 14.25], middle: "12:30", latitude: -33, shiftDays: -182 })).toBe(
      "9 h to 14.25 h a day by month, centred on 12:30, following 33 degrees south, 182 days behind",
    );
    expect(scheduleWords({ ...PLAN, latitude: null })).toBe("10.5 h a day, centred on 13:00");
  });
});

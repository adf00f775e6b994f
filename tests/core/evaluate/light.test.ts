/**
 * A system's light against its schedule, judged as its sensor sends. What counts as off: 15 min well, 30 a look, an hour to act on; common
 * practice, no source. Clocks in London went back on 25 October 2026 at 02:00 (IANA time zone database).
 */
import { describe, expect, test } from "vitest";
import type { DatedSchedule } from "#core/light/index.ts";
import { siteDay } from "#core/time/site-time.ts";
import { folded, type Given, stream, ZONE } from "./folded.ts";

const [MINUTE, HOUR] = [60_000, 3_600_000];
/** 20 October to 1 November; the 25th has 25 hours. */
const [FROM, TO] = [Date.parse("2026-10-19T23:00:00Z"), Date.parse("2026-11-01T00:00:00Z")];
const PLAN: DatedSchedule = {
  hours: [10],
  middle: "13:00",
  latitude: null,
  shiftDays: 0,
  validFrom: 0,
  validTo: null,
  recordedAt: 0,
};
const FACTS = {
  streams: [stream(1, "illuminance", { interval: 15 * MINUTE, critical: false })],
  lightPlans: [PLAN],
};
type Lamp = (start: number, end: number) => readonly [on: number, off: number];
/** From 08:00 to 18:00 by the clock on the wall. */
const wall: Lamp = (_start, end) => [end - 16 * HOUR, end - 6 * HOUR];

/** A lamp that ramps over half an hour, read every quarter hour; `failed` says when it is dark whatever the timer says. */
function lit(lamp: Lamp, failed: (at: number) => boolean = () => false): Given[] {
  const given: Given[] = [];
  for (let at = FROM + 40_000; at < TO; at += 15 * MINUTE) {
    const { start, end } = siteDay(at, ZONE);
    const [on, off] = lamp(start, end);
    const share = Math.min(1, Math.max(0, Math.min(at - on, off - at) / (30 * MINUTE) + 0.5));
    given.push({ stream: 1, at, value: 0.8 + (failed(at) ? 0 : 900 * share) });
  }
  return given;
}
const told = (given: readonly Given[], facts = FACTS) =>
  folded(facts, given).findings.map((each) => ({ ...each, day: siteDay(each.raised, ZONE).start }));
const day = (text: string) => siteDay(Date.parse(`${text}T12:00:00Z`), ZONE).start;

describe("light as planned", () => {
  test("is nothing to speak of, a day of 25 hours included", () => {
    expect(told(lit(wall))).toEqual([]);
  });

  test("where nothing was planned nothing is off", () => {
    expect(
      told(
        lit(() => [0, 0]),
        { ...FACTS, lightPlans: [] },
      ),
    ).toEqual([]);
  });
});

test("a timer that missed the clock change is found on its first evening, to act on the day after, and over when it is set right", () => {
  const change = day("2026-10-25");
  const fixed = day("2026-10-28");
  const found = told(
    lit((start, end) => {
      const [on, off] = wall(start, end);
      const early = start >= change && start < fixed ? HOUR : 0;
      return [on - early, off - early];
    }),
  );
  expect(found).toHaveLength(1);
  const [clock] = found;
  expect(clock).toMatchObject({ kind: "light off", rule: "clock", severity: "action", day: change });
  expect(clock?.evidence).toMatchObject({ change });
  expect(Math.abs(Number(clock?.evidence.off) + 60)).toBeLessThan(8);
  expect(siteDay(clock?.began ?? 0, ZONE).start).toBe(change);
  // Dawn lies between two samples, but an instant is a whole number of milliseconds.
  expect(Number.isInteger(clock?.began)).toBe(true);
  // Planned until 18:00: said by 18:45, not in the middle of the night.
  expect((clock?.raised ?? 0) - change).toBeLessThan(20 * HOUR);
  expect(siteDay(clock?.ended ?? 0, ZONE).start).toBe(fixed);
});

test("lamps that fail at noon are said after half an hour, to act on after an hour, and over when they are back", () => {
  const noon = day("2026-10-23") + 12 * HOUR;
  const found = told(lit(wall, (at) => at >= noon && at < noon + 3 * HOUR));
  const dark = found.find((each) => each.rule === "dark");
  expect(dark).toMatchObject({ kind: "light off", severity: "action" });
  expect((dark?.began ?? 0) - noon).toBeLessThan(15 * MINUTE);
  expect((dark?.raised ?? 0) - (dark?.began ?? 0)).toBe(30 * MINUTE);
  expect((dark?.ended ?? 0) - (noon + 3 * HOUR)).toBeLessThan(15 * MINUTE);
  // One day that was three hours short is no change of its length.
  expect(found).toHaveLength(1);
});

test("lamps that never come on are dark until the evening; dark half an hour in the middle calls nobody", () => {
  const start = day("2026-10-23");
  const none = told(lit(wall, (at) => at >= start && at < start + 24 * HOUR)).filter(
    (each) => each.rule === "dark",
  );
  expect(none).toHaveLength(1);
  expect((none[0]?.ended ?? 0) - (start + 18 * HOUR)).toBeLessThan(15 * MINUTE);
  const short = told(lit(wall, (at) => at >= start + 12 * HOUR && at < start + 12.6 * HOUR));
  expect(short.map((each) => each.severity)).not.toContain("action");
});

test("days too short by 90 min about the same middle are hours off from the second day on, length apart from phase", () => {
  const from = day("2026-10-22");
  const found = told(
    lit((start, end) => {
      const [on, off] = wall(start, end);
      return start < from ? [on, off] : [on + 45 * MINUTE, off - 45 * MINUTE];
    }),
  );
  expect(found.map((each) => `${each.rule} ${each.severity}`)).toEqual(["hours action"]);
  expect(found[0]).toMatchObject({ day: day("2026-10-23"), ended: null });
  expect(Math.abs(Number(found[0]?.evidence.off) + 90)).toBeLessThan(10);
});

test("a checkpoint at any time of the day changes nothing of what is found", () => {
  const noon = day("2026-10-23") + 12 * HOUR;
  const given = lit(wall, (at) => at >= noon && at < noon + 3 * HOUR);
  const whole = folded(FACTS, given).findings;
  for (const at of [1, 330, 350, 365, 420])
    expect(folded(FACTS, given, { restart: { at, change: (text) => text } }).findings).toEqual(whole);
});

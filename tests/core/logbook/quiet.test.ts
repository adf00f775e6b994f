/** Caps and what is quiet: common practice, no source; that nothing grave is ever quiet is our own rule. */
import { expect, test } from "vitest";
import { LOG_KIND_IDS, LOG_KINDS, type LogKind } from "#core/logbook/kinds.ts";
import { mayBeQuiet, overdue, quietRules, quietUntil } from "#core/logbook/quiet.ts";

const T = Date.UTC(2026, 2, 1, 8);
const MIN = 60_000;
const entry = (kind: string, change: Partial<Parameters<typeof quietUntil>[0]> = {}) => ({
  kind,
  at: T,
  until: null,
  open: false,
  expected: null,
  ...change,
});

test.each([
  ["a backwash that goes on: its cap of 30 min", entry("backwash", { open: true }), 30],
  ["a backwash that is over after 12 min", entry("backwash", { until: T + 12 * MIN }), 12],
  ["a backwash closed after an hour: not past its cap", entry("backwash", { until: T + 60 * MIN }), 30],
  ["a feed of 15 min explains the water for 6 h", entry("feed", { until: T + 15 * MIN }), 360],
  ["out of service to the time typed", entry("out-of-service", { open: true, expected: T + 90 * MIN }), 90],
  [
    "out of service for days: 12 h at most",
    entry("out-of-service", { open: true, expected: T + 9_000 * MIN }),
    720,
  ],
])("%s", (_claim, window, minutes) => expect(quietUntil(window)).toBe(T + minutes * MIN));

test.each(["birth", "death", "valve", "outage", "set-point", "note"])("%s keeps nothing quiet", (kind) => {
  expect(quietUntil(entry(kind))).toBeNull();
  expect(quietRules({ kind, quantity: "ph", point: null })).toEqual([]);
});

test("every kind with a cap says what is quiet, every other one nothing, and none reaches level or leaks", () => {
  for (const id of LOG_KIND_IDS) {
    const kind: LogKind = LOG_KINDS[id];
    expect(kind.capMinutes > 0, id).toBe(kind.quiet.length > 0);
    for (const { quantity } of kind.quiet) expect(["level", "leak", "float"]).not.toContain(quantity);
  }
});

test("a calibration quietens its own channel and no other; without one, nothing", () => {
  expect(quietRules({ kind: "calibration", quantity: "ph", point: "sump" })).toEqual([
    { quantity: "ph", part: "all", at: null, point: "sump" },
  ]);
  expect(quietRules({ kind: "calibration", quantity: null, point: null })).toEqual([]);
});

test("level, leak and floats are never quiet; oxygen and temperature are not at their action limits", () => {
  for (const quantity of ["level", "leak", "float"]) expect(mayBeQuiet(quantity, 1)).toBe(false);
  for (const quantity of ["dissolved_oxygen", "oxygen_saturation", "temperature"])
    expect([1, 2, 3].map((level) => mayBeQuiet(quantity, level as 1 | 2 | 3))).toEqual([true, false, false]);
  expect(mayBeQuiet("flow", 3)).toBe(true);
});

test("what is open past its cap says since when and what to do", () => {
  const open = entry("backwash", { open: true });
  expect(overdue(open, T + 29 * MIN)).toBeUndefined();
  expect(overdue(open, T + 31 * MIN)).toBe("Backwash still going on after 31 min. Close the valve.");
  expect(overdue({ ...open, open: false }, T + 31 * MIN)).toBeUndefined();
});

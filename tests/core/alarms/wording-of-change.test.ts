import { expect, test } from "vitest";
import { wording } from "#core/alarms/wording.ts";
import type { Setting, WordedFinding } from "#core/alarms/wording-parts.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { QUANTITIES } from "#core/units/index.ts";

const NOW = Date.UTC(2026, 2, 2, 6, 30);
const setting: Setting = { spec: QUANTITIES.ph, point: "display", zone: "Europe/London", now: NOW };

test.each<[WordedFinding["kind"], string, WordedFinding["evidence"], boolean, string]>([
  ["stepped", "down", { from: 8.2, to: 7.88 }, false, "pH stepped down by 0.32 at 01:45, from 8.20 to 7.88"],
  [
    "stepped",
    "up",
    { from: 8.1, to: 9.2, alone: 1 },
    true,
    "pH stepped up by 1.10 from 01:45 to 05:30, from 8.10 to 9.20, one reading only",
  ],
  [
    "noisy",
    "noise",
    { jump: 0.05, usual: 0.01 },
    false,
    "pH jumping by 0.050 between readings since 01:45, usually 0.010",
  ],
  [
    "stuck",
    "flat",
    { value: 8.12, held: 40 * MINUTE },
    true,
    "pH was stuck at 8.12 from 01:45 to 05:30, counts as stuck after 40 min unchanged",
  ],
  [
    "exposed",
    "air",
    { value: 0 },
    false,
    "pH reads as if in air (0.00) since 01:45, what other probes there read is set aside",
  ],
  ["exposed", "air", { value: 0 }, true, "pH was reading as if in air (0.00) from 01:45 to 05:30"],
  [
    "stepped",
    "up",
    { from: 8, to: 8.4, withdrawn: "air" },
    true,
    "pH stepped up by 0.40 from 01:45 to 05:30, from 8.00 to 8.40, withdrawn: the probe was out of the water",
  ],
  // pH has no other unit: nothing is said of one.
  [
    "exposed",
    "span",
    { value: 80.1, before: 8.01 },
    false,
    "pH reads an impossible value (80.10) since 01:45",
  ],
  ["exposed", "span", { value: 0 }, true, "pH was reading an impossible value (0.00) from 01:45 to 05:30"],
  [
    "drifting",
    "time of day",
    { residual: -0.21, usual: 8.1 },
    false,
    "pH 0.21 below normal for this hour since 01:45, usually 8.10",
  ],
  ["drifting", "trend", { change: 0.09, days: 7 }, false, "pH rising by 0.090 in 7 days"],
  [
    "drifting",
    "tests",
    { change: -0.32, days: 4, tests: 5 },
    false,
    "pH falling by 0.320 in 4 days, 5 bench tests show it",
  ],
  [
    "light off",
    "dark",
    { from: NOW - 5 * HOUR, to: NOW + 5 * HOUR },
    false,
    "Light off since 01:45, planned on from 01:30 to 11:30",
  ],
  [
    "light off",
    "clock",
    { off: -60, change: NOW - DAY, dawn: NOW - 5 * HOUR, dusk: NOW },
    false,
    "Light one hour early since 2 Mar: the clock change was not followed, last lit from 01:30 to 06:30",
  ],
  [
    "light off",
    "hours",
    { off: -90, hours: 9.5, planned: 11 },
    true,
    "Lit 90 min less a day than planned on 2 Mar, last 9 h 30 min, planned 11 h",
  ],
  [
    "disagreeing",
    "twin",
    { difference: 0.2, other: "sump" },
    false,
    "pH differs by 0.20 from the probe at sump since 01:45, one of the two has drifted",
  ],
  [
    "overrun",
    "low",
    { work: "Backwash", from: NOW - 315 * MINUTE, still: "out of band" },
    true,
    "Backwash has run longer than 30 min, since 01:15, pH still out of band until 05:30",
  ],
  ["overrun", "backwash", {}, false, "pH: overrun since 01:45"],
])("%s (%s) with %o", (kind, rule, evidence, over, sentence) => {
  const told: WordedFinding = {
    kind,
    rule,
    began: NOW - 285 * MINUTE,
    ended: over ? NOW - HOUR : null,
    late: false,
    evidence,
  };
  expect(wording(told, setting)).toBe(sentence);
  expect(wording({ ...told, evidence: {}, began: NOW - 3 * DAY }, setting)).not.toMatch(/NaN|undefined|null/);
});

const told = (
  kind: WordedFinding["kind"],
  rule: string,
  evidence: WordedFinding["evidence"],
): WordedFinding => ({
  kind,
  rule,
  began: NOW - HOUR,
  ended: null,
  late: false,
  evidence,
});

test("a jump by the ratio of two units is named as such, in either direction, and one that is none is not", () => {
  const warm: Setting = { ...setting, spec: QUANTITIES.temperature };
  // 24.1 °C is 75.38 °F by the definition of the degree Fahrenheit.
  expect(wording(told("exposed", "span", { value: 75.4, before: 24.1 }), warm)).toBe(
    "Temperature reads an impossible value (75.4 °C) since 05:30, as if the sender had switched its unit to or from °F",
  );
  expect(wording(told("exposed", "span", { value: 85, before: 24.1 }), warm)).not.toContain("unit");
  const oxidant: Setting = { ...setting, spec: QUANTITIES.chlorine };
  expect(wording(told("stepped", "up", { from: 0.02, to: 20.1 }), oxidant)).toContain(
    "as if the sender had switched its unit to or from µg/L as Cl₂",
  );
  expect(wording(told("stepped", "down", { from: 20.1, to: 0.02 }), oxidant)).toContain("µg/L as Cl₂");
  expect(wording(told("stepped", "up", { from: 0.02, to: 0.9 }), oxidant)).not.toContain("unit");
});

test("a value that stands below nothing keeps its sign", () => {
  const redox: Setting = { ...setting, spec: QUANTITIES.orp };
  expect(wording(told("stuck", "flat", { value: -120 }), redox)).toBe("ORP stuck at −120 mV since 05:30");
});

test.each([
  ["too fast", "pH still changing too fast"],
  ["wrong state", "pH still in a wrong state"],
  ["stepped", "pH still unsettled after a step"],
  ["light off", "pH still off its light schedule"],
  ["stuck", "pH still stuck"],
])("work that ran over says in English that it is still %s", (still, clause) => {
  const said = wording(told("overrun", "low", { work: "Backwash", from: NOW - 2 * HOUR, still }), setting);
  expect(said).toBe(`Backwash has run longer than 1 h, since 04:30, ${clause}`);
});

import { expect, test } from "vitest";
import { wording } from "../../../lib/core/alarms/wording.ts";
import type { Setting, Told } from "../../../lib/core/alarms/wording-parts.ts";
import { DAY, HOUR, MINUTE } from "../../../lib/core/time/instant.ts";
import { QUANTITIES } from "../../../lib/core/units/index.ts";

const NOW = Date.UTC(2026, 2, 2, 6, 30);
const setting: Setting = { spec: QUANTITIES.ph, point: "display", zone: "Europe/London", now: NOW };

test.each<[Told["kind"], string, Told["evidence"], boolean, string]>([
  [
    "stepped",
    "down",
    { from: 8.2, to: 7.88 },
    false,
    "pH stepped down by 0.32 since 01:45, from 8.20 to 7.88",
  ],
  [
    "noisy",
    "noise",
    { jump: 0.05, usual: 0.01 },
    false,
    "pH jumping by 0.050 from reading to reading since 01:45, usually 0.010",
  ],
  [
    "stuck",
    "flat",
    { value: 8.12, held: 40 * MINUTE },
    true,
    "pH was the same to the last digit (8.12) from 01:45 to 05:30, it usually stays so for at most 40 min",
  ],
  ["exposed", "air", { value: 0 }, false, "pH reads as if in air (0.00) since 01:45"],
  ["exposed", "span", { value: 0 }, true, "pH was reading what it cannot be (0.00) from 01:45 to 05:30"],
  [
    "drifting",
    "time of day",
    { residual: -0.21, usual: 8.1 },
    false,
    "pH 0.21 below what is usual at this hour since 01:45, usually 8.10",
  ],
  ["drifting", "trend", { change: 0.09, days: 7 }, false, "pH going up, by 0.090 in 7 days"],
  [
    "disagreeing",
    "twin",
    { difference: 0.2, other: "sump" },
    false,
    "pH differs by 0.20 from sump since 01:45, one of the two has moved",
  ],
  ["overrun", "backwash", {}, false, "pH: overrun since 01:45"],
])("%s (%s) with %o", (kind, rule, evidence, over, sentence) => {
  const told: Told = {
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

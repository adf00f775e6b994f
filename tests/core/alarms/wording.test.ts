import { describe, expect, test } from "vitest";
import { wording } from "#core/alarms/wording.ts";
import type { Setting, WordedFinding } from "#core/alarms/wording-parts.ts";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { QUANTITIES } from "#core/units/index.ts";

const NOW = Date.UTC(2026, 2, 2, 6, 30);
const setting: Setting = { spec: QUANTITIES.temperature, point: "display", zone: "Europe/London", now: NOW };
const told = (more: Partial<WordedFinding>): WordedFinding => ({
  kind: "out of band",
  rule: "high",
  began: NOW - 285 * MINUTE,
  ended: null,
  late: false,
  evidence: {},
  ...more,
});

describe("a finding in words", () => {
  test.each<[string, Partial<WordedFinding>, Partial<Setting>, string]>([
    [
      "what is now comes first, the worst after it",
      { evidence: { worst: 28.4, worstAt: NOW - HOUR, edge: 27, limit: 29, deviation: 0.7 } },
      { current: 27.9 },
      "Temperature 27.9 °C, above its band (27.0) since 01:45, highest 28.4 °C at 05:30",
    ],
    [
      "the worst being now, it is said once",
      { rule: "low", evidence: { worst: 21.1, worstAt: NOW, edge: 24, limit: 22, deviation: -1.45 } },
      { current: 21.1, point: "sump" },
      "Temperature (sump) 21.1 °C, below its band (24.0) since 01:45, past its action limit (22.0)",
    ],
    [
      "a limit that was passed and is not any more",
      { evidence: { worst: 29.6, worstAt: NOW - HOUR, edge: 27, limit: 29, deviation: 1.3 } },
      { current: 28.2 },
      "Temperature 28.2 °C, above its band (27.0) since 01:45, was past its action limit (29.0), highest 29.6 °C at 05:30",
    ],
    [
      "a value that is in its band again is not said to be out of it",
      { evidence: { worst: 27.6, worstAt: NOW - HOUR, edge: 27, limit: 29, deviation: 0.3 } },
      { current: 26.9 },
      "Temperature 26.9 °C, back in its band (27.0), had been above it since 01:45, highest 27.6 °C at 05:30",
    ],
    [
      "a stream that fell silent: its last reading and how old that is, not its worst as if it were now",
      { evidence: { worst: 28.4, worstAt: NOW - 3 * HOUR, edge: 27, limit: 29, deviation: 0.7 } },
      { last: { value: 27.3, at: NOW - 2 * HOUR } },
      "Temperature last read 27.3 °C at 04:30, 2 h ago, above its band (27.0) since 01:45, highest 28.4 °C at 03:30",
    ],
    [
      "a newest reading that cannot be believed says nothing of now",
      { evidence: { worst: 28.4, worstAt: NOW - 3 * HOUR, edge: 27, limit: 29, deviation: 0.7 } },
      { last: null },
      "Temperature not known now, above its band (27.0) since 01:45, highest 28.4 °C at 03:30",
    ],
    [
      "what is over",
      {
        ended: NOW - HOUR,
        late: true,
        evidence: { worst: 28.1, worstAt: NOW - 2 * HOUR, edge: 27, limit: 29, deviation: 0.5 },
      },
      {},
      "Temperature was above its band (27.0) from 01:45 to 05:30, highest 28.1 °C at 04:30, found late",
    ],
    [
      "a rate",
      { kind: "too fast", rule: "rising", evidence: { value: 26, rate: 0.42, limit: 0.3, window: HOUR } },
      {},
      "Temperature rising 0.42 °C an hour over 1 h since 01:45, limit 0.30 °C an hour",
    ],
    [
      "a rate that falls",
      { kind: "too fast", rule: "falling", evidence: { rate: -1.2, limit: 0.3, window: 20 * MINUTE } },
      {},
      "Temperature falling 1.20 °C an hour over 20 min since 01:45, limit 0.30 °C an hour",
    ],
    [
      "a state",
      { kind: "wrong state", rule: "cut_out", evidence: { word: "cut_out" } },
      { spec: QUANTITIES.ozone_generator, point: "contact-chamber" },
      "Ozone generator contact-chamber cut out since 01:45",
    ],
    [
      "silence, of a quantity that keeps its capitals",
      { kind: "silent", evidence: { lastAt: NOW - 26 * HOUR, interval: 90_000 } },
      { spec: QUANTITIES.ph },
      "No reading of pH since Sun 04:30, expected every 1 min 30 s",
    ],
    ["evidence that is missing leaves its clause out", {}, {}, "Temperature above its band since 01:45"],
  ])("%s", (_claim, finding, more, sentence) => {
    expect(wording(told(finding), { ...setting, ...more })).toBe(sentence);
  });
});

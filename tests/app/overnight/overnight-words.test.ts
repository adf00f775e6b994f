import { describe, expect, test } from "vitest";
import {
  askingWords,
  lastingWords,
  leftWords,
  nightWords,
  shortWords,
  spanWords,
} from "#app/overnight/_parts/overnight-words.ts";
import type { FindingView, OvernightView } from "#contract/views.ts";
import { durationText } from "#core/time/duration-text.ts";
import { zoneClock } from "#core/time/zone-clock.ts";
import { reachedPercent } from "#core/units/share-text.ts";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const clock = zoneClock("Europe/London");
const TO = Date.UTC(2026, 9, 29, 7, 12);
const FROM = Date.UTC(2026, 9, 28, 18, 4);

function night(more: Partial<OvernightView> = {}): OvernightView {
  return {
    from: FROM,
    to: TO,
    zone: "Europe/London",
    findings: [],
    groups: [],
    unknown: [],
    calm: [],
    calmAllNight: [],
    completeness: [],
    summary: { unanswered: 0, worse: 0, recovering: 0, unknown: 0, calm: 0, share: null },
    names: { "rift-terrace": "Rift Terrace", reef: "Reef Lagoon" },
    labels: { temperature: "Temperature", ph: "pH" },
    ...more,
  };
}
const row = (system: string, quantity: string, got: number) => ({
  system,
  quantity,
  point: "display",
  expected: 100,
  got,
  share: got / 100,
});

describe("the night in one paragraph", () => {
  test("counts in words, gaps by name", () => {
    const view = night({
      summary: { unanswered: 1, worse: 2, recovering: 1, unknown: 2, calm: 4, share: 0.9993 },
      unknown: [{ system: "rift-terrace", quantity: "temperature", since: TO - 42 * MINUTE, why: "" }],
      completeness: [
        row("rift-terrace", "temperature", 94),
        row("reef", "ph", 92),
        row("reef", "temperature", 99),
      ],
    });
    expect(nightWords(view, 1, clock)).toBe(
      "One unacknowledged alarm. Two systems are getting worse, one is recovering, two are not known, four stayed calm all night. " +
        "99.9 % of expected readings arrived; the gaps: Rift Terrace temperature since 06:30; Reef Lagoon pH 92.0 %.",
    );
  });
  test("a calm night is short", () => {
    const view = night({
      summary: { unanswered: 0, worse: 0, recovering: 0, unknown: 0, calm: 12, share: 1 },
    });
    expect(nightWords(view, 0, clock)).toBe(
      "No unacknowledged alarms. 12 systems stayed calm all night. 100.0 % of expected readings arrived; no stream has a gap.",
    );
  });
  test("acknowledging is not answering: what has no response is said beside what is not acknowledged", () => {
    expect(nightWords(night(), 0, clock, "all night", 2)).toContain(
      "No unacknowledged alarms. Two acknowledged alarms have no response in the logbook.",
    );
    expect(askingWords(0, 0, 0)).toBe("all alarms acknowledged");
    expect(askingWords(3, 2, 1)).toBe(
      "3 not acknowledged, 2 without a response, 1 whose finding was judged anew",
    );
  });
  test("where no system stayed calm it says none", () => {
    const view = night({
      summary: { unanswered: 0, worse: 0, recovering: 12, unknown: 0, calm: 0, share: 1 },
    });
    expect(nightWords(view, 0, clock)).toContain("12 systems are recovering, none stayed calm all night.");
  });
  test("a share that was not reached is not rounded up to a hundred", () => {
    expect(reachedPercent(0.99999)).toBe("99.9 %");
  });
});

describe("how long", () => {
  test.each([
    [16 * MINUTE, 34 * MINUTE, "in 15–35 min"],
    [0, 3 * MINUTE, "within 5 min"],
    [8.2 * HOUR, 9.7 * HOUR, "in 8–10 h"],
    [50 * HOUR, 90 * HOUR, "in 2–4 days"],
  ])("from %d to %d is %s, rounded outward", (from, to, words) => {
    expect(spanWords(from, to)).toBe(words);
  });
  test("lasted", () => {
    expect(durationText(688 * MINUTE)).toBe("11 h 28 min");
    expect(durationText(HOUR)).toBe("1 h");
    expect(durationText(80 * HOUR)).toBe("3 days 8 h");
  });
  test("left is said even where it is not known", () => {
    const left = { kind: "reaches", target: "limit", value: 29, from: 8 * HOUR, to: 10 * HOUR } as const;
    expect(leftWords(left, 1)).toBe("reaches its action limit (29.0) in 8–10 h, rough");
    expect(leftWords({ ...left, isStated: true }, 1)).toBe(
      "reaches its action limit (29.0) in 8–10 h, 90 % interval",
    );
    expect(leftWords({ ...left, target: "edge", to: null, isStated: true }, 1)).toBe(
      "leaves its band (29.0) in 8 h at the earliest, 90 % interval",
    );
    expect(leftWords({ kind: "not soon", value: 29 }, 1)).toBe("not expected to reach 29.0 within 7 days");
    expect(leftWords({ kind: "not known" }, 1)).toBe("time left not known");
  });
});

describe("one short line for a phone at night", () => {
  const finding: FindingView = {
    id: "f",
    system: "reef",
    systemName: "Reef Lagoon",
    point: "display",
    quantity: "temperature",
    quantityLabel: "Temperature",
    unitLabel: "°C",
    decimals: 1,
    kind: "out of band",
    rule: "high",
    severity: "action",
    began: Date.UTC(2026, 9, 29, 1, 45),
    raised: Date.UTC(2026, 9, 29, 2, 45),
    ended: null,
    late: false,
    says: "",
    evidence: { worst: 29.4, edge: 27, limit: 29, deviation: 1.2 },
    alarm: null,
  };
  test("past the limit the limit, before it the band's edge", () => {
    expect(shortWords(finding, 29.2)).toBe("Temperature 29.2 °C, limit 29.0");
    expect(shortWords({ ...finding, evidence: { edge: 24, deviation: -0.2 }, rule: "low" }, 23.6)).toBe(
      "Temperature 23.6 °C, band from 24.0",
    );
  });
  test("a speed, a word, a silence", () => {
    expect(shortWords({ ...finding, kind: "too fast", evidence: { rate: 0.24 } }, 26.9)).toBe(
      "Temperature 26.9 °C, +0.24 °C an hour",
    );
    // Beside the time at which it began: the value it was raised at came later.
    expect(shortWords({ ...finding, kind: "too fast", evidence: { rate: -0.7, value: 26.1 } }, null)).toBe(
      "Temperature −0.70 °C an hour",
    );
    expect(shortWords({ ...finding, kind: "silent" }, null)).toBe("Temperature not known");
    const pump = { ...finding, kind: "wrong state" as const, quantityLabel: "Pump", point: "pump-2" };
    expect(shortWords({ ...pump, evidence: { word: "tripped" } }, null)).toBe("Pump, pump 2 tripped");
  });
  test("for how long, or how long it was", () => {
    expect(lastingWords(finding, TO)).toBe("for 5 h 27 min");
    expect(lastingWords({ ...finding, ended: TO - HOUR }, TO)).toBe("lasted 4 h 27 min");
  });
});

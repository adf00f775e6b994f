import { describe, expect, it } from "vitest";
import { rateWords, volumeWords } from "#app/_components/words/number-words.ts";
import { countWords, seenAs } from "#app/_components/words/standing-words.ts";
import { noteOf } from "#app/_components/words/stream-words.ts";
import { worstFirst } from "#core/alarms/standing.ts";
import { ageText } from "#core/time/age-text.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { finding, MINUTES, NOW, stream, system } from "../views.ts";

describe("numbers in words", () => {
  it("writes a rate with a place more than its quantity", () => {
    expect(rateWords(-0.24, 1, "°C")).toBe("−0.24 °C an hour");
    expect(rateWords(0.004, 1, "°C")).toBe("< +0.01 °C an hour");
  });

  it("writes a volume without needless places", () => {
    expect([1250.4, 4, 2.55, 0.04].map(volumeWords)).toEqual(["1250 m³", "4 m³", "2.5 m³", "< 0.1 m³"]);
  });
});

describe("times in words", () => {
  // IANA time zone database: Europe/London is on UTC from 2026-10-25 01:00 UTC on; before that on BST (UTC+1).
  it("names the zone in force", () => {
    const clock = clockOf("Europe/London");
    expect(clock.full(NOW)).toBe("Thu 29 Oct 2026, 07:12 GMT");
    expect(clock.full(Date.UTC(2026, 9, 24, 7, 12))).toBe("Sat 24 Oct 2026, 08:12 BST");
    expect(clock.near(NOW - 5 * MINUTES, NOW)).toBe("07:07");
    expect(clock.near(NOW - 24 * 60 * MINUTES, NOW)).toBe("Wed 07:12");
    // 29 October 2020 was a Thursday as well: without its year it would read as today.
    expect(clock.near(Date.UTC(2020, 9, 29, 7, 12), NOW)).toBe("29 Oct 2020 07:12");
    expect(clock.dayClock(Date.UTC(2017, 0, 1, 7), NOW)).toBe("Sun 1 Jan 2017 07:00");
    expect(clock.hour(NOW)).toBeCloseTo(7.2, 6);
  });

  it("writes midnight as 00:00", () => {
    expect(clockOf("UTC").clock(Date.UTC(2026, 0, 1))).toBe("00:00");
  });

  it("rounds ages down", () => {
    expect([5_999, 61_000, 42 * MINUTES + 59_000, 11 * 60 * MINUTES, 72 * 60 * MINUTES].map(ageText)).toEqual(
      ["5 s", "1 min", "42 min", "11 h", "3 days"],
    );
  });
});

describe("standing in words", () => {
  it("keeps a suspect probe apart from a missing value and from the water", () => {
    expect(seenAs(stream())).toBe("calm");
    expect(seenAs(stream({ value: null, standing: "unknown" }))).toBe("unknown");
    expect(seenAs(stream({ silent: true, standing: "unknown" }))).toBe("unknown");
    expect(seenAs(stream({ flag: 4, standing: "unknown" }))).toBe("doubtful");
    expect(seenAs(stream({ value: 0, word: "running" }))).toBe("calm");
  });

  it("puts the worst first", () => {
    const list = [
      system("calm", [], { standing: "calm" }),
      system("far", [], { standing: "look", worst: 0.9 }),
      system("unknown", [], { standing: "unknown" }),
      system("near", [], { standing: "look", worst: 0.1 }),
      system("action", [], { standing: "action", worst: 1.1 }),
    ];
    expect(list.sort(worstFirst).map((s) => s.system)).toEqual(["action", "far", "near", "unknown", "calm"]);
    expect(countWords(list).map((c) => c.text)).toEqual([
      "1 needs action",
      "2 need a look",
      "1 not known",
      "1 calm",
    ]);
  });

  it("notes begin with the word", () => {
    const clock = clockOf("Europe/London");
    const gas = { quantity: "total_gas_pressure", standing: "action", deviation: 3 } as const;
    expect(noteOf(stream(gas), [finding()], clock, NOW)).toBe("needs action since Wed 20:12");
    expect(noteOf(stream({ silent: true, standing: "unknown" }), [], clock, NOW)).toBe("silent since 07:11");
    expect(
      noteOf(stream({ flag: 3, standing: "unknown", reasons: ["time_suspect"] }), [], clock, NOW),
    ).toMatch(/^suspect, its timestamp/);
    const failed = { flag: 4, standing: "look", reasons: ["out_of_sensor_span"], deviation: null } as const;
    expect(noteOf(stream({ ...failed, reasons: [...failed.reasons] }), [], clock, NOW)).toBe(
      "needs a look: suspect, outside what the instrument can read",
    );
    expect(noteOf(stream({ silent: true, standing: "action" }), [], clock, NOW)).toBe(
      "needs action: silent since 07:11",
    );
    expect(noteOf(stream(), [], clock, NOW)).toBe("");
  });
});

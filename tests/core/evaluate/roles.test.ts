/** The evaluator asks what a point is for, never what it is called. Every number is invented. */
import { describe, expect, test } from "vitest";
import { derivationOf, derivedPairs } from "#core/evaluate/derivations.ts";
import type { StreamFacts } from "#core/evaluate/facts.ts";
import type { MuteWindow } from "#core/evaluate/mute-windows.ts";
import { isMuted } from "#core/evaluate/mute-windows.ts";
import { quietRules } from "#core/logbook/quiet.ts";
import type { PointRole } from "#core/set-up/point-role.ts";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { folded, settingsOf, stream } from "./folded.ts";

const T0 = Date.parse("2026-03-01T00:00:00Z");
const at = (pointCode: string, pointRole: PointRole): Partial<StreamFacts> => ({ pointCode, pointRole });

describe("ORP that rises 60 mV in an hour", () => {
  const given = Array.from({ length: 61 }, (_, minute) => ({
    stream: 1,
    at: T0 + minute * MINUTE,
    value: 330 + minute + (minute % 2) / 10,
  }));
  const kinds = (pointCode: string, pointRole: PointRole) =>
    folded(
      { streams: [stream(1, "orp", { interval: MINUTE, ...at(pointCode, pointRole) })] },
      given,
    ).findings.map(({ kind }) => kind);

  test("is too fast in an exhibit, also one called contact-lens-pool", () => {
    expect(kinds("contact-lens-pool", "exhibit")).toContain("too fast");
  });
  test("follows the ozone in a contact chamber, also one called treatment-loop", () => {
    expect(kinds("treatment-loop", "contact-chamber")).not.toContain("too fast");
  });
});

describe("a feed", () => {
  const feed: MuteWindow = {
    root: "feed",
    from: T0,
    until: T0 + 6 * HOUR,
    rules: quietRules({ kind: "feed", quantity: null, point: null }),
    capped: null,
  };
  const isLowQuiet = (pointCode: string, pointRole: PointRole) => {
    const settings = settingsOf({ streams: [stream(1, "orp", at(pointCode, pointRole))] });
    const [orp] = settings.streams;
    if (!orp) throw new Error("no stream was compiled");
    return isMuted([feed], orp, "low", 2, T0 + HOUR);
  };

  test("explains low ORP in a contact chamber and nowhere else, whatever they are called", () => {
    expect(isLowQuiet("treatment-loop", "contact-chamber")).toBe(true);
    expect(isLowQuiet("contact-lens-pool", "exhibit")).toBe(false);
  });
});

describe("what oxygen percent is computed with", () => {
  const oxygen = stream(1, "dissolved_oxygen", at("lagoon", "exhibit"));
  const temperatureOf = (...others: StreamFacts[]) => {
    const facts = {
      system: { id: "pool", water: "fresh" as const, volume: 100, youngFilter: false },
      zone: "UTC",
      elevation: 0,
      bands: [],
      plans: [],
      streams: [oxygen, ...others],
    };
    const pair = derivedPairs(facts).find(({ formula }) => formula === "oxygen_saturation");
    if (!pair) throw new Error("oxygen percent is not computed");
    return derivationOf(facts, pair, 9).choices.temperature?.map((choice) => choice.stream);
  };

  test("is the temperature of the same water, nearest first: no make-up, no loop, no air", () => {
    const elsewhere = stream(2, "temperature", at("basin", "sump"));
    const exhibit = stream(3, "temperature", at("window", "exhibit"));
    const here = stream(4, "temperature", at("lagoon", "exhibit"));
    const others = (["make-up", "loop-supply", "loop-return", "room-air"] as const).map((role, n) =>
      stream(5 + n, "temperature", at(`display-${n}`, role)),
    );
    expect(temperatureOf(elsewhere, exhibit, here, ...others)).toEqual([4, 3, 2]);
  });

  test("and the barometer, wherever it hangs", () => {
    const facts = [stream(2, "temperature", at("lagoon", "exhibit"))];
    const barometer = stream(3, "barometric_pressure", at("hall", "room-air"));
    const system = { id: "pool", water: "fresh" as const, volume: 100, youngFilter: false };
    const all = {
      system,
      zone: "UTC",
      elevation: 0,
      bands: [],
      plans: [],
      streams: [oxygen, ...facts, barometer],
    };
    const pair = derivedPairs(all).find(({ formula }) => formula === "oxygen_saturation");
    if (!pair) throw new Error("oxygen percent is not computed");
    expect(derivationOf(all, pair, 9).choices.pressure?.map((choice) => choice.stream)).toEqual([3]);
  });
});

test("un-ionised ammonia is computed in the system's water, and not in what fills it up", () => {
  const streams = (role: PointRole) => [
    stream(1, "ph", at("tap", role)),
    stream(2, "temperature", at("tap", role)),
    stream(3, "salinity", at("tap", role)),
    stream(4, "total_ammonia", { origin: "bench", interval: null, ...at("tap", role) }),
  ];
  const computes = (role: PointRole) =>
    derivedPairs({
      system: { id: "pool", water: "marine", volume: 100, youngFilter: false },
      zone: "UTC",
      elevation: 0,
      bands: [],
      plans: [],
      streams: streams(role),
    }).some(({ formula }) => formula === "unionised_ammonia");
  expect(computes("other")).toBe(true);
  expect(computes("make-up")).toBe(false);
  expect(computes("loop-return")).toBe(false);
});

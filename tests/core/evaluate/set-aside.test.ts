/**
 * Readings that are no evidence of the water, a stuck probe's and one's in air, and one reading far from its course, which is evidence and calls
 * nobody. Series are invented; what must follow is the rule: health before water, and nobody is called for one reading.
 */
import { describe, expect, test } from "vitest";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import { steadyRandom } from "#tests/bench/bench-row.ts";
import { band, type Folded, folded, type Given, stream } from "./folded.ts";

const MINUTE = 60_000;
const T0 = Date.UTC(2026, 2, 2);
const at = (i: number) => T0 + i * 5 * MINUTE;

/** A reading every five minutes: `usual` with a spread of a fiftieth of a unit, or what `odd` says. */
function series(count: number, usual: number, odd: (i: number) => number | null, id = 1): Given[] {
  const next = steadyRandom(5 + id);
  return Array.from({ length: count }, (_, i) => {
    const noise = 0.02 * (next() + next() + next() - 1.5);
    return { stream: id, at: at(i), value: Number((odd(i) ?? usual + noise).toFixed(3)) };
  });
}
const TEMPERATURE = {
  streams: [stream(1, "temperature")],
  bands: [band("temperature", { low: 14, high: 16, actionLow: 12, actionHigh: 18, urgentHigh: 19 })],
};
const kinds = (of: Folded) => of.findings.map(({ kind, severity }) => `${kind} ${severity}`);

describe("one wild reading", () => {
  const wild = folded(
    TEMPERATURE,
    series(200, 15, (i) => (i === 100 ? 19.5 : null)),
  );

  test("is held against its band like any other, wants a look, and calls nobody", () => {
    expect(wild.flags).toEqual([]);
    expect(kinds(wild)).toEqual(["stepped look"]);
    expect(wild.findings[0]).toMatchObject({
      began: at(100),
      ended: at(101),
      evidence: { alone: 1, to: 19.5 },
    });
    expect(wild.alarms).toEqual([]);
  });

  test("that the next one bears out is a step somebody must act on, from its own time", () => {
    const step = folded(
      TEMPERATURE,
      series(200, 15, (i) => (i >= 100 ? 18.5 + 0.01 * (i % 3) : null)),
    );
    const stepped = step.findings.find((each) => each.kind === "stepped");
    expect(stepped).toMatchObject({
      severity: "action",
      began: at(100),
      raised: at(100),
      evidence: { alone: 0 },
    });
    expect(step.alarms.find((each) => each.kind === "stepped")?.raised).toBe(at(101));
    // Three samples of five minutes from the first reading past the limit.
    const out = step.findings.find((each) => each.kind === "out of band");
    expect(out).toMatchObject({ severity: "action", began: at(100), raised: at(103), ended: null });
  });

  test("and one to the other side are two wild readings, not one that bears out the other", () => {
    const two = folded(
      TEMPERATURE,
      series(200, 15, (i) => (i === 100 ? 19.5 : i === 101 ? 10.5 : null)),
    );
    expect(kinds(two)).toContain("stepped look");
    expect(two.alarms).toEqual([]);
  });

  test("ends no finding that stands", () => {
    const high = folded(
      TEMPERATURE,
      series(200, 15, (i) => (i === 140 ? 15 : i >= 100 ? 18.5 + 0.01 * (i % 3) : null)),
    );
    const out = high.findings.filter((each) => each.kind === "out of band");
    expect(out).toHaveLength(1);
    expect(out[0]?.ended).toBeNull();
  });

  test("before a checkpoint of an older kind is borne out after it all the same, or stands alone", () => {
    const older = (text: string) => text.replaceAll(/,"outSide":-?\d/g, "");
    for (const end of [101, 150]) {
      const given = series(200, 15, (i) => (i >= 100 && i < end ? 18.5 : null));
      const whole = folded(TEMPERATURE, given);
      expect(kinds(folded(TEMPERATURE, given, { restart: { at: 100, change: older } }))).toEqual(
        kinds(whole),
      );
      const same = folded(TEMPERATURE, given, { restart: { at: 101, change: (text) => text } });
      expect([same.findings, same.flags]).toEqual([whole.findings, whole.flags]);
    }
  });
});

describe("a probe that is stuck", () => {
  const facts = {
    ...TEMPERATURE,
    bands: [...TEMPERATURE.bands, band("temperature", { low: 14, high: 15.2, actionHigh: 15.3 }, at(250))],
  };
  const stuck = folded(
    facts,
    series(500, 15, (i) => (i >= 100 && i < 400 ? 15.4 : null)),
  );

  test("is set aside while it is, with its reason, and says nothing of a band that comes into force meanwhile", () => {
    const finding = stuck.findings.find((each) => each.kind === "stuck");
    expect(finding).toMatchObject({ severity: "action", ended: at(400) });
    const from = finding?.raised ?? 0;
    expect(from).toBeGreaterThan(at(100));
    expect(stuck.flags.filter((row) => row.reasons.includes("flat_line")).map((row) => row.at)).toEqual(
      Array.from({ length: (at(400) - from) / (5 * MINUTE) }, (_, i) => from + i * 5 * MINUTE),
    );
    expect(from).toBeLessThan(at(250));
    expect(stuck.findings.filter((each) => each.kind === "out of band")).toEqual([]);
  });

  test("feeds no means", () => {
    const rows = stuck.rollups.filter(
      (row) => row.width === QUARTER_HOUR && row.start >= at(250) && row.start < at(397),
    );
    expect(rows.length).toBeGreaterThan(40);
    expect(rows.every((row) => row.n === 3 && row.good === 0 && row.max === null)).toBe(true);
  });

  test("is no gap in the record when it moves again", () => {
    const unscheduled = folded(
      { streams: [stream(1, "temperature", { interval: null })] },
      series(500, 15, (i) => (i >= 100 && i < 400 ? 15.01 : null)),
    );
    expect(kinds(unscheduled)).toEqual(["stuck action"]);
  });
});

test("a probe in air speaks of itself alone: neither salinity nor its band hear of it, and back in the water it counts again", () => {
  const salt = stream(2, "salinity", { origin: "derived" });
  const facts = {
    streams: [stream(1, "conductivity"), stream(3, "temperature"), salt],
    bands: [band("conductivity", { low: 45, actionLow: 30 }), band("salinity", { low: 30, actionLow: 25 })],
  };
  const air = (i: number) => i >= 150 && i < 170;
  const given = [...series(200, 53, (i) => (air(i) ? 0.2 : null)), ...series(200, 25, () => null, 3)].sort(
    (a, b) => a.at - b.at || b.stream - a.stream,
  );
  const result = folded(facts, given);
  expect(kinds(result).filter((each) => each.startsWith("out of band"))).toEqual([]);
  expect(result.findings.find((each) => each.kind === "exposed")).toMatchObject({
    severity: "action",
    began: at(150),
    ended: at(170),
  });
  const aside = result.flags.filter((row) => row.stream === 1);
  expect(aside.slice(0, 20).map((row) => row.reasons.at(-1))).toEqual(Array(20).fill("in_air"));
  const wet = result.derived.filter((row) => row.stream === 2).map((row) => row.at);
  expect(wet.some((when) => when >= at(150) && when < at(170))).toBe(false);
  expect(wet.at(-1)).toBe(at(199));
  expect(result.findings.filter((each) => each.kind === "too fast" && each.severity !== "look")).toEqual([]);
});

import { describe, expect, test } from "vitest";
import type { Calibration, CalibrationKind } from "#core/probes/calibration.ts";
import { dueAt, lastSetRight, newest } from "#core/probes/due.ts";
import { HEALTH_WORDS, type HealthFacts, healthOf } from "#core/probes/health.ts";
import { DAY } from "#core/time/instant.ts";

const well: HealthFacts = {
  now: 100 * DAY,
  silent: false,
  flag: 1,
  findings: [],
  isChecked: false,
  slope: 99,
  offset: -4,
  due: 101 * DAY,
  twinMoved: false,
};

// Letters: NAMUR NE 107, edition 2017. Slopes and offsets: common practice, no source.
test.each<[string, Partial<HealthFacts>, string]>([
  ["is good where nothing is wrong", {}, "good"],
  ["failed where it fell silent", { silent: true }, "F"],
  ["failed where its value fails its checks", { flag: 4 }, "F"],
  ["failed where it never read anything", { flag: 9 }, "F"],
  ["failed where it is stuck", { findings: [{ kind: "stuck", rule: "" }] }, "F"],
  ["is in function check while it is out, though it is silent", { silent: true, isChecked: true }, "C"],
  [
    "is out of specification where it drifted from the bench tests",
    { findings: [{ kind: "drifting", rule: "bench" }] },
    "S",
  ],
  ["is out of specification where its twin left it", { twinMoved: true }, "S"],
  ["is out of specification with a poor electrode", { slope: 84 }, "S"],
  ["wants maintenance with a worn electrode", { slope: 91 }, "M"],
  ["is out of specification with an electrode far off at pH 7", { offset: -61 }, "S"],
  ["wants maintenance with an electrode off at pH 7", { offset: 31 }, "M"],
  ["wants maintenance where calibration is overdue", { due: 100 * DAY }, "M"],
  ["is good where nothing was ever due", { due: null, slope: null }, "good"],
  ["is not judged by the water", { findings: [{ kind: "out of band", rule: "" }] }, "good"],
  ["is not judged by water that drifts", { findings: [{ kind: "drifting", rule: "trend" }] }, "good"],
])("a probe %s", (_claim, change, letter) => {
  const health = healthOf({ ...well, ...change });
  expect(health.letter).toBe(letter);
  expect(HEALTH_WORDS[health.letter]).not.toBe("");
  expect(health.why === "").toBe(letter === "good");
});

describe("calibrations due", () => {
  const calibration = (kind: CalibrationKind, at: number, isVoid = false): Calibration => ({
    id: `${kind}${at}`,
    clientId: `${kind}${at}`,
    stream: 1,
    kind,
    from: at - 1,
    at,
    before: null,
    after: null,
    moved: null,
    standards: [],
    slope: null,
    offset: null,
    item: null,
    note: "",
    by: "Ada",
    byId: "ada",
    entered: at,
    received: at,
    voided: isVoid
      ? { id: "v", clientId: "v", calibration: "c", by: "Ada", byId: "ada", reason: "no", at, received: at }
      : null,
  });
  test("count from the last calibration or change of probe; cleaning and voids do not", () => {
    const rows = [
      calibration("calibration", DAY),
      calibration("cleaning", 3 * DAY),
      calibration("calibration", 4 * DAY, true),
    ];
    expect(dueAt("ph", rows)).toBe(8 * DAY);
    expect(dueAt("ph", [...rows, calibration("replacement", 5 * DAY)])).toBe(12 * DAY);
    expect(lastSetRight(rows)?.at).toBe(DAY);
    expect(newest(rows)?.at).toBe(3 * DAY);
    expect(newest(rows, 3 * DAY)?.at).toBe(DAY);
  });
  test("none is due where none was ever recorded, or none is expected", () => {
    expect(dueAt("ph", [])).toBeNull();
    expect(dueAt("flow", [calibration("calibration", DAY)])).toBeNull();
  });
});

/** Counted animals, each count held against the one before. Numbers are invented; what must follow is the rule. */
import { expect, test } from "vitest";
import { wording } from "#core/alarms/wording.ts";
import { miscount } from "#core/drift/count.ts";
import { quantity } from "#core/units/index.ts";
import { folded, stream, ZONE } from "./folded.ts";

const HOUR = 3_600_000;
const T0 = Date.UTC(2026, 2, 2);
const COUNTS = { streams: [stream(1, "animal_count", { origin: "bench", interval: null })] };
const counted = (...values: number[]) =>
  folded(
    COUNTS,
    values.map((value, i) => ({ stream: 1, at: T0 + i * HOUR, value })),
  );
const told = (...values: number[]) =>
  counted(...values).findings.map(({ rule, began, ended }) => [
    rule,
    (began - T0) / HOUR,
    ended === null ? null : (ended - T0) / HOUR,
  ]);

test("one more or one fewer wants a look until the next count bears it out, and calls nobody", () => {
  expect(told(4, 4, 5, 5, 5)).toEqual([["more", 2, 3]]);
  expect(told(4, 4, 3)).toEqual([["fewer", 2, null]]);
  const { findings, alarms } = counted(4, 4, 5);
  expect(findings[0]).toMatchObject({ kind: "stepped", severity: "look", evidence: { from: 4, to: 5 } });
  expect(alarms).toEqual([]);
});

test("another number again is another finding", () => {
  expect(told(4, 5, 4, 4)).toEqual([
    ["more", 1, 2],
    ["fewer", 2, 3],
  ]);
});

test("the first count says nothing, nor a shoal that was counted within a tenth", () => {
  expect(told(7)).toEqual([]);
  expect(told(200, 215, 190)).toEqual([["fewer", 2, null]]);
  expect([miscount(0), miscount(50), miscount(60)]).toEqual([0, 0, 6]);
});

test("a checkpoint between two counts changes nothing", () => {
  const given = [4, 5, 5].map((value, i) => ({ stream: 1, at: T0 + i * HOUR, value }));
  for (const at of [1, 2])
    expect(folded(COUNTS, given, { restart: { at, change: (text) => text } }).findings).toEqual(
      counted(4, 5, 5).findings,
    );
});

test("it is said in animals", () => {
  const [finding] = counted(4, 4, 3).findings;
  const spec = quantity("animal_count");
  if (!finding || !spec) throw new Error("three where four were is found");
  const says = wording(finding, { spec, point: "display", zone: ZONE, now: T0 + 3 * HOUR, current: 3 });
  expect(says).toBe("Animals counted: 3, 1 fewer than the previous count, 02:00");
});

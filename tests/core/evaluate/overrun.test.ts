/** Work that was logged and runs to the cap of its kind while what it explained goes on. Caps: common practice, no source. */
import { expect, test } from "vitest";
import { type MuteWindow, muteWindowsOf } from "#core/evaluate/mute-windows.ts";
import type { StoredLogVersion } from "#core/logbook/entry.ts";
import { LOG_KINDS } from "#core/logbook/kinds.ts";
import { logVersion } from "#tests/store/contract/samples.ts";
import { band, folded, type Given, stream } from "./folded.ts";

const MINUTE = 60_000;
const T0 = Date.UTC(2026, 2, 2, 8);
const FACTS = {
  streams: [stream(1, "flow", { interval: MINUTE })],
  bands: [band("flow", { low: 48, actionLow: 30 })],
};
/** Flow of 60 m3/h, 20 in the minutes from..to after T0. */
const flow = (from: number, to: number): Given[] =>
  Array.from({ length: 120 }, (_, i) => ({
    stream: 1,
    at: T0 + i * MINUTE,
    value: i >= from && i < to ? 20 : 60,
  }));
const BACKWASH: MuteWindow = {
  root: "backwash",
  from: T0 + 10 * MINUTE,
  until: T0 + 40 * MINUTE,
  rules: LOG_KINDS.backwash.quiet,
  capped: "Backwash",
};
const found = (given: readonly Given[], quiet: readonly MuteWindow[]) => folded(FACTS, given, { quiet });

test("flow that is still low at the cap of a backwash rings then, and it is said that the backwash ran over until it is back", () => {
  const { findings, alarms } = found(flow(11, 60), [BACKWASH]);
  const overrun = findings.filter((each) => each.kind === "overrun");
  expect(overrun).toHaveLength(1);
  expect(overrun[0]).toMatchObject({
    severity: "look",
    rule: "low",
    began: BACKWASH.until,
    raised: BACKWASH.until,
    evidence: { work: "Backwash", from: BACKWASH.from, still: "out of band" },
  });
  expect((overrun[0]?.ended ?? 0) - T0).toBeGreaterThanOrEqual(60 * MINUTE);
  expect((overrun[0]?.ended ?? 0) - T0).toBeLessThanOrEqual(64 * MINUTE);
  expect(alarms.map((alarm) => [alarm.kind, alarm.raised])).toEqual([["out of band", BACKWASH.until]]);
});

test("flow that is back before the cap is neither an alarm nor an overrun", () => {
  const { findings, alarms } = found(flow(11, 35), [BACKWASH]);
  expect([alarms, findings.filter((each) => each.kind === "overrun")]).toEqual([[], []]);
});

test("flow that falls after the window has nothing to do with it; nor where somebody said that the work was over", () => {
  expect(found(flow(50, 80), [BACKWASH]).findings.map((each) => each.kind)).toEqual(["out of band"]);
  const closed = { ...BACKWASH, until: T0 + 30 * MINUTE, capped: null };
  expect(found(flow(11, 60), [closed]).findings.map((each) => each.kind)).toEqual(["out of band"]);
});

const LOGGED: StoredLogVersion = { ...logVersion({ at: T0, entered: T0 }), received: T0 };

test("work that goes on is capped, work that was closed before is not, and what is done in a moment never ran over", () => {
  const windows = (kind: string, change: Partial<StoredLogVersion>) =>
    muteWindowsOf([{ root: kind, versions: [{ ...LOGGED, kind, ...change }] }]).map(
      (window) => window.capped,
    );
  expect(windows("backwash", {})).toEqual(["Backwash"]);
  expect(windows("backwash", { until: T0 + 12 * MINUTE, open: false })).toEqual([null]);
  expect(windows("feed", { open: false })).toEqual([null]);
});

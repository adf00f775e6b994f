import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type AlarmInput, type AlarmState, nextAlarmState } from "#core/alarms/alarm.ts";
import { onDelay, silenceAfter } from "#core/alarms/delays.ts";

const MINUTE = 60_000;
const active: AlarmInput = { kind: "active", escalated: false };
const graver: AlarmInput = { kind: "active", escalated: true };
const cleared: AlarmInput = { kind: "cleared" };
const seen: AlarmInput = { kind: "acknowledged", by: "technician" };

describe("base states (ANSI/ISA-18.2, IEC 62682, as restated by OPC 10000-9)", () => {
  test.each<[AlarmState, AlarmInput, AlarmState]>([
    ["NORMAL", active, "UNACK"],
    ["UNACK", seen, "ACK"],
    ["UNACK", cleared, "RTN_UNACK"],
    ["ACK", cleared, "NORMAL"],
    ["RTN_UNACK", seen, "NORMAL"],
    ["RTN_UNACK", active, "UNACK"],
    ["ACK", active, "ACK"],
    ["ACK", graver, "UNACK"],
    ["NORMAL", seen, "NORMAL"],
    ["NORMAL", cleared, "NORMAL"],
  ])("%s, %o -> %s", (from, input, to) => expect(nextAlarmState(from, input)).toBe(to));

  test("whatever happens, an alarm that cleared and was seen since it last rang is normal", () => {
    const inputs = fc.array(fc.constantFrom(active, graver, cleared, seen), { maxLength: 30 });
    fc.assert(
      fc.property(inputs, (given) => {
        const state = [...given, cleared, seen].reduce<AlarmState>(nextAlarmState, "NORMAL");
        expect(state).toBe("NORMAL");
      }),
    );
  });

  test("no alarm is lost: after an active condition it stands until a person has seen it", () => {
    const without = fc.array(fc.constantFrom(active, graver, cleared), { maxLength: 30 });
    fc.assert(
      fc.property(without, (given) => {
        const state = [active, ...given].reduce<AlarmState>(nextAlarmState, "NORMAL");
        expect(["UNACK", "RTN_UNACK"]).toContain(state);
      }),
    );
  });
});

describe("delays (common practice, no source)", () => {
  test("the smaller of three samples and a quarter of the time to act", () => {
    expect(onDelay("temperature", 5 * MINUTE, true)).toBe(15 * MINUTE);
    expect(onDelay("temperature", MINUTE, true)).toBe(3 * MINUTE);
    expect(onDelay("temperature", 30 * MINUTE, true)).toBe(15 * MINUTE);
    expect(onDelay("orp", 5 * MINUTE, true)).toBe(3.75 * MINUTE);
    expect(onDelay("ph", 5 * MINUTE, true)).toBe(15 * MINUTE);
  });
  test("flow answers within 60 to 120 seconds whatever the sampling", () => {
    for (const interval of [30_000, MINUTE, 5 * MINUTE]) {
      expect(onDelay("flow", interval, true)).toBeGreaterThanOrEqual(60_000);
      expect(onDelay("flow", interval, true)).toBeLessThanOrEqual(120_000);
    }
  });
  test("a bench result counts at once", () => expect(onDelay("nitrate", null, false)).toBe(0));
  test("silence is three intervals, at least two minutes", () => {
    expect(silenceAfter(5 * MINUTE)).toBe(15 * MINUTE);
    expect(silenceAfter(10_000)).toBe(2 * MINUTE);
  });
});

import { describe, expect, it } from "vitest";
import { isSilent, streamStanding, systemStanding } from "#core/alarms/stream-standing.ts";

type Known = Parameters<typeof streamStanding>[1];
const current = (given: Partial<NonNullable<Known["current"]>>): NonNullable<Known["current"]> => ({
  flag: 1,
  deviation: 0,
  silentAt: null,
  ...given,
});
const look = { kind: "out of band", rule: "high", severity: "look" } as const;
const urgent = { kind: "out of band", rule: "high", severity: "urgent" } as const;
const silence = { kind: "silent", rule: "", severity: "look" } as const;
const NUMBER = { quantity: "temperature", hasBand: true, word: null };
const of = (known: Partial<Known>, silent = false, what: Parameters<typeof streamStanding>[0] = NUMBER) =>
  streamStanding(what, { current: current({}), findings: [], ...known }, silent);

describe("a stream", () => {
  it("stands by how far its value is out of its band, to either side", () => {
    const standings = [0, 0.5, -0.5, 1, -1.2].map((deviation) => of({ current: current({ deviation }) }));
    expect(standings).toEqual(["calm", "look", "look", "action", "action"]);
  });
  it("is not known where its band cannot be judged, and calm where it has none", () => {
    const unjudged = { current: current({ deviation: null }) };
    expect(of(unjudged)).toBe("unknown");
    expect(of(unjudged, false, { ...NUMBER, hasBand: false })).toBe("calm");
  });
  it("is not known, however far out, when it is silent, was never read, or is not good", () => {
    expect(of({ current: current({ deviation: 2 }) }, true)).toBe("unknown");
    expect(of({ current: undefined })).toBe("unknown");
    expect(of({ current: current({ deviation: 2, flag: 4 }) })).toBe("unknown");
  });
  it("stands no better than its findings, silent or not", () => {
    expect(of({ findings: [look] })).toBe("look");
    expect(of({ findings: [look, urgent] })).toBe("action");
    expect(of({ findings: [look] }, true)).toBe("look");
  });
  it("stands by the word of a state at once", () => {
    const pump = (word: string) => of({}, false, { quantity: "pump", hasBand: false, word });
    expect(["running", "stopped", "tripped"].map(pump)).toEqual(["calm", "look", "action"]);
  });
});

describe("silence", () => {
  it("begins at the instant by which a reading was expected", () => {
    const known = { current: current({ silentAt: 100 }), findings: [] };
    expect([99, 100].map((now) => isSilent(60, known, now))).toEqual([false, true]);
  });
  it("is what a finding of it says, and what a scheduled stream keeps before its first reading", () => {
    expect(isSilent(60, { current: current({}), findings: [silence] }, 0)).toBe(true);
    expect(isSilent(60, { current: undefined, findings: [] }, 0)).toBe(true);
    expect(isSilent(null, { current: undefined, findings: [] }, 0)).toBe(false);
  });
});

describe("a system", () => {
  const stream = (standing: "action" | "look" | "unknown" | "calm", critical = true) => ({
    standing,
    critical,
  });
  it("is calm only where every critical stream is known to be", () => {
    expect(systemStanding([stream("calm"), stream("unknown", false)], [])).toBe("calm");
    expect(systemStanding([stream("calm"), stream("unknown")], [])).toBe("unknown");
    expect(systemStanding([stream("calm", false)], [])).toBe("unknown");
    expect(systemStanding([], [])).toBe("unknown");
  });
  it("stands as its worst stream or finding does", () => {
    expect(systemStanding([stream("calm"), stream("look", false)], [])).toBe("look");
    expect(systemStanding([stream("unknown"), stream("look")], [urgent])).toBe("action");
  });
});

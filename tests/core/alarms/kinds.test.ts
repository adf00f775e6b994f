/** What types cannot see of the kinds of findings: that each is raised, can be said whatever its rule, and is written on one clock. */
import { describe, expect, it, test } from "vitest";
import { isNotKnownKind } from "#core/alarms/finding.ts";
import {
  FINDING_KIND_NAMES,
  FINDING_KINDS,
  isOfReceiving,
  RECEIVE_KINDS,
  traitsOf,
  WATER_RULES,
} from "#core/alarms/kinds.ts";
import { wording } from "#core/alarms/wording.ts";
import type { Setting } from "#core/alarms/wording-parts.ts";
import { CONDITION_SPECS, CONDITIONS, conditionOf } from "#core/evaluate/conditions.ts";
import { HOUR } from "#core/time/instant.ts";
import { QUANTITIES } from "#core/units/index.ts";

const NOW = Date.UTC(2026, 2, 2, 6, 30);
const WORDS = Object.values(QUANTITIES).flatMap((spec) =>
  spec.kind === "state" ? Object.keys(spec.wrong) : [],
);

/** Every kind with every rule that raises it: those it lists, else the wrong words of states or the conditions that go on. */
const CLAIMS = FINDING_KIND_NAMES.flatMap((kind) => {
  const { rules } = FINDING_KINDS[kind];
  const names = rules === null ? (kind === "overrun" ? CONDITIONS : WORDS) : Object.keys(rules);
  return names.map((rule) => ({ kind, rule }));
});

describe("every kind of finding", () => {
  test.each(CLAIMS)("$kind ($rule) is not known to a page exactly where the table says so", (claim) => {
    expect(isNotKnownKind(claim.kind)).toBe(traitsOf(claim).isNotKnown);
  });

  test.each(CLAIMS)(
    "$kind ($rule) has its sentence, open and over, with and without evidence",
    ({ kind, rule }) => {
      const spec = FINDING_KINDS[kind].short === "word" ? QUANTITIES.pump : QUANTITIES.ph;
      const setting: Setting = { spec, point: "display", zone: "Europe/London", now: NOW };
      const evidence = {
        ...Object.fromEntries(
          ["value", "from", "to", "rate", "limit", "edge", "change", "days", "apart", "off"].map((key) => [
            key,
            1,
          ]),
        ),
        work: "Backwash",
        still: "out of band",
      };
      const told = { kind, rule, began: NOW - 3 * HOUR, late: false };
      const said = [null, NOW - HOUR].flatMap((ended) =>
        [{}, evidence].map((each) => wording({ ...told, ended, evidence: each }, setting)),
      );
      for (const sentence of said) {
        expect(sentence).toMatch(/^\S.{8,}/);
        expect(sentence).not.toMatch(/NaN|undefined|null|\[object|_/);
      }
      // One that is over is never told as if it went on; a count is over when it is made.
      if (rule !== "more" && rule !== "fewer") expect(said[0]).not.toBe(said[2]);
    },
  );

  it("is raised: on the water's clock by a condition for each of its rules, else from the receive state", () => {
    const raised = CLAIMS.filter((claim) => !isOfReceiving(claim) && claim.rule !== "gap");
    expect(raised.length).toBeGreaterThan(20);
    for (const { kind, rule } of raised) {
      const name = conditionOf(kind, rule);
      if (name === undefined) throw new Error(`no condition raises ${kind} (${rule})`);
      const spec = CONDITION_SPECS[name];
      const rules: readonly string[] | "any" = spec.rules;
      expect(spec.kind).toBe(kind);
      expect(rules === "any" || rules.includes(rule), `${kind} (${rule})`).toBe(true);
    }
    for (const kind of RECEIVE_KINDS) expect(conditionOf(kind, ""), kind).toBeUndefined();
  });

  it("has no rule that two conditions raise, and no condition has one its kind does not know", () => {
    const all = CONDITIONS.flatMap((name) => {
      const { kind, rules } = CONDITION_SPECS[name];
      return rules === "any" ? [] : rules.map((rule) => `${kind} (${rule})`);
    });
    expect(new Set(all).size).toBe(all.length);
    const known = new Set(CLAIMS.map(({ kind, rule }) => `${kind} (${rule})`));
    expect(all.filter((each) => !known.has(each))).toEqual([]);
  });

  it("names itself by words of its own", () => {
    const labels = FINDING_KIND_NAMES.map((kind) => FINDING_KINDS[kind].label);
    expect(new Set(labels).size).toBe(labels.length);
  });
});

describe("the two clocks", () => {
  it("leave to the receiving one silence and windows that ran over, and to the water's a gap in a record", () => {
    expect([...RECEIVE_KINDS].sort()).toEqual(["overrun", "silent"]);
    expect(WATER_RULES).toEqual(["gap"]);
    expect(isOfReceiving({ kind: "silent", rule: "gap" })).toBe(false);
  });

  it("share no rule: what the store tells apart by its rule is of one kind only", () => {
    for (const rule of WATER_RULES)
      expect(
        CLAIMS.filter((claim) => claim.rule === rule && RECEIVE_KINDS.includes(claim.kind)),
      ).toHaveLength(1);
    expect(CONDITIONS.filter((name) => WATER_RULES.includes(name))).toEqual([]);
  });
});

test("what a probe is not to be believed for is a reason of its letter, and a rule that is not listed is as its kind", () => {
  for (const claim of CLAIMS) {
    const { isNoEvidence, probe } = traitsOf(claim);
    if (isNoEvidence) expect(probe, `${claim.kind} (${claim.rule})`).not.toBeNull();
  }
  expect(traitsOf({ kind: "drifting", rule: "bench" }).probe?.letter).toBe("S");
  expect(traitsOf({ kind: "drifting", rule: "of an older version" }).probe).toBeNull();
});

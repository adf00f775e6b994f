import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { incidentsOf, type Member, TOGETHER } from "#core/incidents/group.ts";
import { MINUTE } from "#core/time/instant.ts";

const member = (id: string, minutes: number, more: Partial<Member> = {}): Member => ({
  id,
  system: "kelp",
  stream: id,
  loops: [],
  began: minutes * MINUTE,
  ended: null,
  sender: null,
  isState: false,
  isAlone: false,
  isGrave: false,
  ...more,
});
const told = (members: readonly Member[]) =>
  incidentsOf(members).map((one) => one.members.map((each) => each.id));

describe("findings are one story", () => {
  test("of one system within half an hour, the first one first", () => {
    expect(told([member("oxygen", 20), member("flow", 2), member("later", 60)])).toEqual([
      ["flow", "oxygen"],
      ["later"],
    ]);
  });
  test("of systems that share a loop, and not of others", () => {
    const loop = { loops: ["chilled"] };
    expect(
      told([
        member("a", 0, loop),
        member("b", 5, { ...loop, system: "reef" }),
        member("c", 5, { system: "rays" }),
      ]),
    ).toEqual([["a", "b"], ["c"]]);
  });
  test("a state input of the same moment goes first", () => {
    expect(told([member("flow", 1), member("pump", 1, { isState: true })])).toEqual([["pump", "flow"]]);
  });
  test("what follows from a stopped machine while it stands, and from water that needs action", () => {
    const pump = member("pump", 0, { isState: true });
    const grave = { isGrave: true };
    expect(told([pump, member("oxygen", 40, grave), member("warmth", 359)])).toEqual([
      ["pump", "oxygen", "warmth"],
    ]);
    expect(told([pump, member("tomorrow", 400)])).toEqual([["pump"], ["tomorrow"]]);
    expect(told([{ ...pump, ended: 5 * MINUTE }, member("oxygen", 40, grave)])).toEqual([
      ["pump"],
      ["oxygen"],
    ]);
    expect(told([member("oxygen", 0, grave), member("ph", 100, grave)])).toEqual([["oxygen", "ph"]]);
    expect(told([member("oxygen", 0, grave), member("probe", 100)])).toEqual([["oxygen"], ["probe"]]);
    expect(told([member("oxygen", 0, grave), member("ph", 100, { ...grave, system: "reef" })])).toEqual([
      ["oxygen"],
      ["ph"],
    ]);
  });
  test("what a stream says while it is still said to be something else", () => {
    const fast = member("too fast", 0, { stream: "temperature" });
    const out = member("out of band", 185, { stream: "temperature" });
    expect(told([fast, out])).toEqual([["too fast", "out of band"]]);
    expect(told([{ ...fast, ended: 170 * MINUTE }, out])).toEqual([["too fast"], ["out of band"]]);
  });
  test("a probe that left its bench tests stands alone, whatever the water did beside it", () => {
    const probe = member("probe", 1, { stream: "ph", isAlone: true });
    expect(told([member("water", 0, { stream: "ph" }), probe, member("step", 2)])).toEqual([
      ["water", "step"],
      ["probe"],
    ]);
  });
  test("what one gateway no longer sends, over all its systems and apart from the water", () => {
    const silent = (id: string, minutes: number, system: string, sender = "gateway-1") =>
      member(id, minutes, { system, sender });
    const rows = [
      silent("a", 0, "kelp"),
      silent("b", 55, "reef"),
      silent("other", 5, "kelp", "gateway-2"),
      member("water", 5, { isGrave: true }),
    ];
    expect(told(rows)).toEqual([["a", "b"], ["other"], ["water"]]);
  });
  test("what two stories have in common joins them", () => {
    const rows = [
      member("a", 0, { system: "a", loops: ["x"] }),
      member("b", 1, { system: "b", loops: ["y"] }),
      member("both", 2, { system: "c", loops: ["x", "y"] }),
    ];
    expect(told(rows)).toEqual([["a", "b", "both"]]);
  });
});

test("no member is ever lost or told twice, whatever the order", () => {
  const rows = fc.array(
    fc.record({
      id: fc.uuid(),
      system: fc.constantFrom("a", "b", "c"),
      stream: fc.constantFrom("1", "2", "3"),
      loops: fc.subarray(["x", "y"]),
      began: fc.integer({ min: 0, max: 20 * TOGETHER }),
      ended: fc.option(fc.integer({ min: 0, max: 40 * TOGETHER })),
      sender: fc.constantFrom(null, "gateway-1"),
      isState: fc.boolean(),
      isAlone: fc.boolean(),
      isGrave: fc.boolean(),
    }),
    { maxLength: 30 },
  );
  fc.assert(
    fc.property(rows, (members) => {
      const ids = incidentsOf(members).flatMap((one) => one.members.map((each) => each.id));
      expect(ids.sort()).toEqual(members.map((each) => each.id).sort());
      expect(incidentsOf([...members].reverse()).map((one) => one.id)).toEqual(
        incidentsOf(members).map((one) => one.id),
      );
    }),
  );
});

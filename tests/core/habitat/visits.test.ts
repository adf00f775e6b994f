import fc from "fast-check";
import { expect, it } from "vitest";
import { visitsOf } from "#core/habitat/index.ts";

const stay = (system: string, from: number, to: number | null) => ({ system, from, to });

it("joins stays in one water that touch or overlap, and parts them where the animal was away", () => {
  const stays = [
    stay("kelp", 50, null),
    stay("kelp", 0, 10),
    stay("kelp", 10, 20),
    stay("pool", 20, 50),
    stay("pool", 30, 30),
  ];
  expect(visitsOf(stays)).toEqual([
    { system: "kelp", from: 0, to: 20, stays: [stay("kelp", 0, 10), stay("kelp", 10, 20)] },
    { system: "pool", from: 20, to: 50, stays: [stay("pool", 20, 50)] },
    { system: "kelp", from: 50, to: null, stays: [stay("kelp", 50, null)] },
  ]);
});
it("gives a parted group a visit in each of its systems", () => {
  expect(visitsOf([stay("kelp", 0, 10), stay("kelp", 10, null), stay("pool", 10, null)])).toMatchObject([
    { system: "kelp", from: 0, to: null },
    { system: "pool", from: 10, to: null },
  ]);
});
it("loses no moment and adds none, in any order (property)", () => {
  const one = fc.record({
    system: fc.constantFrom("a", "b"),
    from: fc.integer({ min: 0, max: 60 }),
    length: fc.option(fc.integer({ min: 0, max: 20 })),
  });
  fc.assert(
    fc.property(fc.array(one, { maxLength: 8 }), fc.integer({ min: 0, max: 90 }), (made, at) => {
      const stays = made.map(({ system, from, length }) =>
        stay(system, from, length === null ? null : from + length),
      );
      const holds = ({ from, to }: { from: number; to: number | null }) =>
        from <= at && (to === null || at < to);
      for (const system of ["a", "b"]) {
        const of = visitsOf(stays).filter((visit) => visit.system === system);
        expect(of.filter(holds)).toHaveLength(
          stays.some((each) => each.system === system && holds(each)) ? 1 : 0,
        );
      }
    }),
  );
});

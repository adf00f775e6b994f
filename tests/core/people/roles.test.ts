import fc from "fast-check";
import { expect, test } from "vitest";
import { EVERYWHERE, type Grant, MAY, may, mayAnywhere, mayRole, RIGHTS, ROLES } from "#core/people/index.ts";

const HERE = { site: "site-1", system: "system-1" };
const grant = (role: Grant["role"], place: Partial<Grant> = {}): Grant => ({
  role,
  site: null,
  system: null,
  ...place,
});

test("each role up to curator may all that the one before may; the administrator writes no records", () => {
  const [viewer, aquarist, technician, curator] = ROLES.map((role) => new Set<string>(MAY[role]));
  for (const [less, more] of [
    [viewer, aquarist],
    [aquarist, technician],
    [technician, curator],
  ])
    for (const right of less ?? []) expect(more).toContain(right);
  for (const right of ["record-bench", "write-log", "acknowledge", "sign-handover", "change-band"] as const)
    expect(mayRole("administrator", right)).toBe(false);
  expect(ROLES.filter((role) => mayRole(role, "manage-people"))).toEqual(["administrator"]);
});

test.each([
  ["everywhere", grant("viewer"), [true, true, true]],
  ["at its site", grant("viewer", { site: "site-1" }), [true, true, false]],
  ["at another site", grant("viewer", { site: "site-2" }), [false, false, false]],
  ["at its system", grant("viewer", { system: "system-1" }), [true, false, false]],
  ["at another system", grant("viewer", { system: "system-2" }), [false, false, false]],
])("a grant %s reaches the system, its site, everything: as it says", (_claim, one, reaches) => {
  const places = [HERE, { site: "site-1", system: null }, EVERYWHERE];
  expect(places.map((place) => may([one], "read", place))).toEqual(reaches);
});

test("more grants never take a right away, and no grant gives one", () => {
  const anyGrant = fc.record({
    role: fc.constantFrom(...ROLES),
    site: fc.constantFrom(null, "site-1", "site-2"),
    system: fc.constantFrom(null, "system-1", "system-2"),
  });
  fc.assert(
    fc.property(fc.array(anyGrant), anyGrant, fc.constantFrom(...RIGHTS), (grants, more, right) => {
      if (may(grants, right, HERE)) expect(may([...grants, more], right, HERE)).toBe(true);
      if (may(grants, right, HERE)) expect(mayAnywhere(grants, right)).toBe(true);
      if (may(grants, right, EVERYWHERE)) expect(may(grants, right, HERE)).toBe(true);
      expect(may([], right, HERE)).toBe(false);
    }),
  );
});

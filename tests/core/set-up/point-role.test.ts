/** What hangs on a point's role, and the one place where a name is read: as a guess. Which name means what: common practice, no source. */
import { describe, expect, test } from "vitest";
import { rateRulesFor } from "#core/drift/rate-rules.ts";
import { guessedRole } from "#core/set-up/guessed-role.ts";
import {
  distanceFrom,
  mainPoint,
  nearestFirst,
  POINT_ROLE_IDS,
  POINT_ROLES,
  type PointRole,
} from "#core/set-up/point-role.ts";
import { POINT_ROLE_WORDS } from "#core/set-up/point-role-words.ts";

test.each<[string, PointRole]>([
  ["display", "exhibit"],
  ["display-2", "exhibit"],
  ["exhibit-east", "exhibit"],
  ["sump", "sump"],
  ["sump-2", "sump"],
  ["filters", "filter"],
  ["sand-filter-outlet", "filter"],
  ["contact-chamber", "contact-chamber"],
  ["ozone-contact", "contact-chamber"],
  ["make-up", "make-up"],
  ["make-up-tank", "make-up"],
  ["makeup", "make-up"],
  ["chilled-loop-supply", "loop-supply"],
  ["chilled-return", "loop-return"],
  ["plant-room", "plant-room"],
  ["hall-air", "room-air"],
  ["pump-1", "equipment"],
  ["float-high", "equipment"],
  ["link-valve", "equipment"],
  // Nothing in the name says what these are for; a return alone may be the water that comes back to the animals.
  ["outlet", "other"],
  ["return", "other"],
  ["pair-pool", "other"],
  ["pumpkin-patch", "other"],
  ["treatment-loop", "other"],
  // A wrong guess, which is why it is shown as one.
  ["contact-lens-pool", "contact-chamber"],
])("%s is guessed to be: %s", (name, role) => expect(guessedRole(name)).toBe(role));

describe("what hangs on a role", () => {
  const having = (has: (role: PointRole) => boolean) => POINT_ROLE_IDS.filter(has);

  test("each property belongs to the roles that the trade would say", () => {
    expect(having((id) => POINT_ROLES[id].isAnimalsWater)).toEqual(["exhibit"]);
    expect(having((id) => POINT_ROLES[id].followsOzoneController)).toEqual(["contact-chamber"]);
    expect(having((id) => POINT_ROLES[id].showsLevel)).toEqual(["sump"]);
    expect(having((id) => POINT_ROLES[id].isAtFilter)).toEqual(["filter"]);
    expect(having((id) => POINT_ROLES[id].water !== "system")).toEqual([
      "make-up",
      "loop-supply",
      "loop-return",
      "room-air",
    ]);
  });

  test("ORP has rates but in a contact chamber, temperature but in a loop and in the air of a room", () => {
    const without = (quantity: string) => having((id) => rateRulesFor(quantity, id, 100).length === 0);
    expect(without("orp")).toEqual(["contact-chamber", "loop-supply", "loop-return", "room-air"]);
    expect(without("temperature")).toEqual(["loop-supply", "loop-return", "room-air"]);
  });

  test("labels are told apart", () => {
    const labels = POINT_ROLE_IDS.map((id) => POINT_ROLE_WORDS[id].label);
    expect(new Set(labels).size).toBe(labels.length);
  });
});

describe("the point that is meant where none is named", () => {
  const point = (code: string, role: PointRole, twinOf: string | null = null) => ({ code, role, twinOf });

  test("is an exhibit whatever its name, the first of several, a second probe's last", () => {
    const sump = point("basin", "sump");
    expect(mainPoint([sump, point("lagoon", "exhibit")])?.code).toBe("lagoon");
    expect(mainPoint([point("west", "exhibit"), point("east", "exhibit")])?.code).toBe("east");
    expect(mainPoint([point("a-2", "exhibit", "id-of-b"), point("b", "exhibit")])?.code).toBe("b");
    expect(mainPoint([sump, point("display", "other")])).toBeUndefined();
  });

  test("its streams come right after those of the point itself", () => {
    const at = (id: number, pointCode: string, pointRole: PointRole) => ({ id, pointCode, pointRole });
    const streams = [
      at(1, "sump", "sump"),
      at(2, "west", "exhibit"),
      at(3, "east", "exhibit"),
      at(4, "outlet", "filter"),
    ];
    const order = (from: string | null) => nearestFirst(from, streams).map(({ id }) => id);
    expect(order("outlet")).toEqual([4, 3, 2, 1]);
    expect(order("sump")).toEqual([1, 3, 2, 4]);
    expect(order(null)).toEqual([3, 2, 1, 4]);
    expect(streams.map((stream) => distanceFrom("west", stream))).toEqual([2, 0, 1, 2]);
  });
});

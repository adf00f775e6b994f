import { expect, test } from "vitest";
import { rankOf, type Standing, worstFirst } from "#core/alarms/standing.ts";

const system = (name: string, standing: Standing, worst: number | null, volume = 1) => ({
  name,
  standing,
  worst,
  volume,
});

test("what needs action stands first, what is not known before what is calm", () => {
  const calm = system("a", "calm", 0.9);
  const unknown = system("b", "unknown", null);
  const look = system("c", "look", 0.2);
  const action = system("d", "action", 1.1);
  expect([calm, unknown, look, action].sort(worstFirst)).toEqual([action, look, unknown, calm]);
  expect(rankOf("action")).toBeLessThan(rankOf("calm"));
});

test("of equals the one furthest out to either side, then the larger, then by name", () => {
  const below = system("low", "look", -0.8);
  const above = system("high", "look", 0.5);
  const large = system("z", "look", 0.5, 40);
  const none = system("a", "look", null);
  const other = system("b", "look", null);
  expect([other, none, above, large, below].sort(worstFirst)).toEqual([below, large, above, none, other]);
});

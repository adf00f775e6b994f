/** Another number of animals than was counted before, told by what people logged. Common practice, no source. */
import { expect, test } from "vitest";
import { likelyCauses } from "#core/incidents/cause.ts";
import { seen } from "./story.ts";

const causesOf = (rule: "more" | "fewer", logged: string) =>
  likelyCauses(
    seen({ logged: [logged], findings: [{ kind: "stepped", rule, quantity: "animal_count" }] }),
  ).map((cause) => cause.id);

test.each([
  ["more", "birth", ["birth"]],
  ["more", "animal-move", ["animals-moved"]],
  ["more", "round", ["counted-more"]],
  ["fewer", "feed", ["animal-missing"]],
  ["fewer", "birth", ["animal-missing"]],
  ["fewer", "animal-move", ["animals-moved"]],
  ["fewer", "death", []],
] as const)("%s animals after a logged %s: %j", (rule, logged, causes) => {
  expect(causesOf(rule, logged)).toEqual(causes);
});

test("water that moves is not explained by a birth", () => {
  const causes = likelyCauses(
    seen({ logged: ["birth"], findings: [{ kind: "too fast", rule: "rising", quantity: "temperature" }] }),
  );
  expect(causes.map((cause) => cause.id)).not.toContain("birth");
});

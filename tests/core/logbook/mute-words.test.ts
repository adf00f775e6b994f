import { expect, test } from "vitest";
import { LOG_KINDS } from "#core/logbook/kinds.ts";
import { muteWords } from "#core/logbook/mute-words.ts";

test("a rule for contact chambers says so: low ORP elsewhere still rings", () => {
  expect(LOG_KINDS.feed.quiet.map(muteWords)).toEqual([
    "rate of change of pH",
    "rate of change of dissolved oxygen",
    "rate of change of oxygen saturation",
    "low ORP in contact chambers",
    "turbidity",
  ]);
});

test("a rule for one point names it", () => {
  expect(muteWords({ quantity: "ph", part: "all", at: null, point: "loop-return" })).toBe(
    "pH at loop-return",
  );
});

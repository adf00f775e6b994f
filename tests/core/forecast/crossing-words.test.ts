import { expect, test } from "vitest";
import { crossingWords } from "#core/forecast/crossing-words.ts";

test.each([
  [null, "pH 7.70: time left is not known until there is a week of readings"],
  [{ earliest: null, latest: null, isStated: true }, "pH 7.70: not expected within 7 days"],
  [
    { earliest: 3.27, latest: 8.01, isStated: true },
    "pH 7.70: between 3.2 h and 8.1 h from now (90 % interval)",
  ],
  [
    { earliest: 30, latest: null, isStated: false },
    "pH 7.70: in 30 h at the earliest, perhaps not within 7 days (rough)",
  ],
])("%o", (crossing, says) => {
  expect(crossingWords(crossing, "pH 7.70")).toBe(says);
});

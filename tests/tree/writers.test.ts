/** Numbers, times and lengths of time have one writer each; nothing else may write them in its own way. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "..", "..");
const PRODUCT = ["lib", "app", "ingest"];

/** A way of writing, and the files that are its writers or do something else with it. */
const WRITERS: readonly (readonly [what: string, pattern: RegExp, allowed: readonly string[]])[] = [
  [
    "rounding to text",
    /\.(toFixed|toPrecision|toExponential)\(/,
    [
      "lib/core/units/number-text.ts",
      "lib/core/units/bound-text.ts",
      "lib/core/units/figures-text.ts",
      "lib/core/units/rounding.ts",
      // Run before the packages are there, so they import nothing.
      "ingest/commands/say.mjs",
      "ingest/commands/test.mjs",
    ],
  ],
  ["the locale of a machine", /\.toLocale\w*String\(/, []],
  [
    "Intl",
    /\bIntl\./,
    // The second only asks whether the browser's language is one that Intl knows.
    ["lib/core/time/zone-clock.ts", "app/systems/_parts/chart/load-plot.ts"],
  ],
  [
    "names of months",
    /["'](Jan|January|jan)["'],?\s*["'](Feb|February|feb)["']/,
    ["lib/core/time/names.ts", "lib/core/time/month-names.ts"],
  ],
  [
    "names of weekdays",
    /["'](Mon|Monday|Sun|Sunday)["'],?\s*["'](Tue|Tuesday|Mon|Monday)["']/,
    ["lib/core/time/names.ts"],
  ],
  [
    "a label inside a sentence",
    /[lL]abel\.toLowerCase\(|\/\^\[A-Z\]\[a-z\]\//,
    // The second only asks whether the name of a point begins with the label.
    ["lib/core/units/label-text.ts", "app/_components/words/stream-words.ts"],
  ],
  [
    "a median of its own",
    /(length \/ 2\)\]|length >> 1\])/,
    // The middle day of a run of days, which says where a word is drawn.
    ["app/home-water/_parts/ribbon-chart.tsx"],
  ],
];

const files = PRODUCT.flatMap((folder) =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .filter((path) => /\.(ts|tsx|mjs)$/.test(path) && !path.includes("node_modules"))
    .map((path) => `${folder}/${path}`),
);
const text = new Map(files.map((path) => [path, readFileSync(join(ROOT, path), "utf8")]));
const usersOf = (pattern: RegExp) => files.filter((path) => pattern.test(text.get(path) ?? ""));

describe("one writer each", () => {
  it.each(WRITERS)("%s", (_what, pattern, allowed) => {
    expect(files.length).toBeGreaterThan(500);
    expect(usersOf(pattern).filter((path) => !allowed.includes(path))).toEqual([]);
  });

  it.each(WRITERS)("%s: every file that may is one that does", (_what, pattern, allowed) => {
    const users = usersOf(pattern);
    expect(allowed.filter((path) => !users.includes(path))).toEqual([]);
  });

  it.each([
    ["rounding to text", "value.toFixed(2)"],
    ["the locale of a machine", 'count.toLocaleString("en-GB")'],
    ["Intl", 'new Intl.DateTimeFormat("en")'],
    ["names of months", 'const MONTHS = ["Jan", "Feb"]'],
    ["names of weekdays", 'const DAYS = ["Mon", "Tue"]'],
    ["a label inside a sentence", "of.label.toLowerCase() ?? conflict.quantity"],
    ["a median of its own", "sorted[Math.floor(sorted.length / 2)] ?? 0"],
  ])("would be seen: %s", (what, planted) => {
    const [, pattern] = WRITERS.find(([name]) => name === what) ?? [];
    expect(pattern?.test(planted)).toBe(true);
  });
});

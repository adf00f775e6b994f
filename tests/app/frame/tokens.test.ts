/**
 * Contrast of every ground, computed from the token file. Source: WCAG 2.2, success criteria 1.4.3 (text 4.5:1) and 1.4.11
 * (graphics 3:1); relative luminance and contrast ratio as defined there.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

const css = readFileSync(new URL("../../../app/_components/frame/tokens.css", import.meta.url), "utf8");

function grounds(): Map<string, Map<string, string>> {
  const found = new Map<string, Map<string, string>>();
  for (const [, selector = "", body = ""] of css.matchAll(/^(\S[^{]*?) \{([^}]*)\}/gm)) {
    const colours = [...body.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)];
    if (colours.length === 0) continue;
    const name = /data-ground="(\w+)"/.exec(selector)?.[1] ?? "light";
    found.set(name, new Map(colours.map(([, key = "", value = ""]) => [key, value])));
  }
  return found;
}

function luminance(colour: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5]
    .map((i) => Number.parseInt(colour.slice(i, i + 2), 16) / 255)
    .map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string, b: string): number {
  const [dark = 0, light = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (light + 0.05) / (dark + 0.05);
}

const PAPERS = ["paper", "sheet", "shade"];
const TEXT: readonly (readonly [string, readonly string[]])[] = [
  ...["ink", "ink-soft", "ink-faint", "look", "act", "doubt", "link"].map((text) => [text, PAPERS] as const),
  ...["look", "act", "doubt"].map((text) => [text, [`${text}-ground`, "changed"]] as const),
  ["ink", ["changed", "act-ground"]],
  ["ink-soft", ["changed", "band"]],
  ["paper", ["ink"]],
];
const MARKS = ["mark", "look", "act", "doubt", "sweep", "limit", "band-edge"];
const GRAPHICS: readonly (readonly [string, readonly string[]])[] = [
  ...MARKS.map((mark) => [mark, [...PAPERS, "band"]] as const),
  ...["focus", "line"].map((mark) => [mark, PAPERS] as const),
];

/** Pairs under the ratio asked for, in words. */
function tooFaint(colours: Map<string, string>, pairs: typeof TEXT, least: number): string[] {
  return pairs.flatMap(([front, backs]) =>
    backs.flatMap((back) => {
      const [a, b] = [colours.get(front), colours.get(back)];
      if (a === undefined || b === undefined) return [`${front} or ${back} is not in the file`];
      const ratio = contrast(a, b);
      return ratio < least ? [`${front} on ${back}: ${ratio.toFixed(2)}`] : [];
    }),
  );
}

describe("tokens", () => {
  it("has the contrast function right", () => {
    // WCAG 2.2: black on white is 21:1. #777777 on white is 4.48:1, the well-known near miss (from memory).
    expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 5);
    expect(contrast("#777777", "#ffffff")).toBeCloseTo(4.48, 2);
  });

  it("has three grounds that name the same colours", () => {
    const all = grounds();
    expect([...all.keys()]).toEqual(["light", "dark", "night"]);
    for (const colours of all.values())
      expect([...colours.keys()]).toEqual([...(all.get("light")?.keys() ?? [])]);
  });

  for (const [ground, colours] of grounds()) {
    it(`${ground}: text is legible`, () => expect(tooFaint(colours, TEXT, 4.5)).toEqual([]));
    it(`${ground}: marks, strip parts and lines are visible`, () =>
      expect(tooFaint(colours, GRAPHICS, 3)).toEqual([]));
  }
});

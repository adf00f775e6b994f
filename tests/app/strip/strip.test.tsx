import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { Strip } from "#app/_components/strip/strip.tsx";
import { stripSentence } from "#app/_components/words/stream-words.ts";
import { edges, stream } from "../views.ts";

const drawn = (given: Parameters<typeof stream>[0]) => renderToStaticMarkup(<Strip stream={stream(given)} />);

describe("strip", () => {
  it("differs in shape, not only in colour, for each standing", () => {
    const shapes = [
      drawn({}),
      drawn({ value: 17, standing: "look", deviation: 0.4 }),
      drawn({ value: 19, standing: "action", deviation: 1.5 }),
      drawn({ flag: 3, standing: "unknown", deviation: null, reasons: ["out_of_plausible_span"] }),
    ].map((html) => html.replaceAll(/class="[^"]*"/g, "").replaceAll(/aria-label="[^"]*"/g, ""));
    expect(new Set(shapes).size).toBe(4);
    expect(shapes[1]).toContain("h-14z");
    expect(shapes[2]).toContain("l7 7-7 7-7-7z");
    expect(shapes[3]).toContain("<circle");
    expect(shapes[0]).not.toContain("<circle");
  });

  it("draws no mark where the value is not known", () => {
    const html = drawn({ silent: true, standing: "unknown", deviation: null });
    expect(html).not.toContain("<circle");
    expect(html).toContain("Temperature, not known.");
  });

  it("draws every path in numbers a browser reads, whichever way the value moves", () => {
    for (const rate of [-0.9, 0.9]) {
      const html = drawn({
        value: 26,
        rate,
        plan: 25,
        band: edges(24.5, 27, 23, 29),
        sweepLow: 25.5,
        sweepHigh: 26.9,
      });
      // Without the blank 3.6 and 4 would run together into one number.
      expect(html).toContain(rate < 0 ? "l-4 3.6 4 3.6" : "l4 3.6 -4 3.6");
    }
  });

  it("draws nothing without a band", () => {
    expect(drawn({ band: null })).toBe("");
  });

  it("says in a sentence what it shows", () => {
    expect(
      stripSentence(
        stream({ value: 26.9, rate: 0.24, band: edges(24.5, 27, 23, 29), sweepLow: 25.5, sweepHigh: 26.9 }),
      ),
    ).toBe(
      "Temperature 26.9 °C, in band. Target 24.5 to 27.0 °C. Action limits 23.0 and 29.0. +0.24 °C an hour. Between 25.5 and 26.9 since 18:00.",
    );
    const gas = {
      label: "Gas",
      unitLabel: "%",
      band: edges(null, 101.5, null, 103),
      rate: null,
      sweepLow: null,
      sweepHigh: null,
    };
    expect(stripSentence(stream({ ...gas, value: 106.4, standing: "action", deviation: 3 }))).toBe(
      "Gas 106.4 %, needs action. Target at most 101.5 %. Action limit 103.0.",
    );
  });
});

import { renderToStaticMarkup } from "react-dom/server";
import { expect, it } from "vitest";
import { Arrivals } from "#app/rejected/_parts/arrivals.tsx";
import type { ArrivalsView } from "#contract/arrivals.ts";
import { clockOf } from "#core/time/zone-clock.ts";

const T = Date.UTC(2026, 2, 1, 6, 30);
const EMPTY: ArrivalsView = { now: T, from: T - 86_400_000, to: T, sources: [], streams: [], suspects: [] };
const shown = (view: Partial<ArrivalsView>) =>
  renderToStaticMarkup(<Arrivals arrivals={{ ...EMPTY, ...view }} clock={clockOf("Europe/London")} />)
    .replaceAll(/<[^>]+>/g, " ")
    .replaceAll(/\s+/g, " ");

it("says in words whose clock is off, which numbers are missing, and what is not complete", () => {
  const text = shown({
    sources: [
      {
        source: "gateway-1",
        kind: "gateway",
        streams: 1,
        readings: 7,
        last: T,
        skew: -90_000,
        clock: "M",
        longestDelay: 4_000,
        sequence: {
          counts: "each stream",
          numbered: 7,
          missing: 3,
          restarts: 0,
          since: T - 86_400_000,
          gaps: [{ after: 41, before: 45, missing: 3, from: T - 60_000, to: T, stream: 9 }],
        },
      },
    ],
    streams: [
      {
        stream: 9,
        system: "reef",
        point: "display",
        quantity: "temperature",
        readings: 7,
        expected: 10,
        share: 0.7,
        missingNumbers: 3,
      },
    ],
    suspects: [{ stream: 9, from: 0, to: 0, received: T }],
  });
  expect(text).toContain("M, needs attention: 1 min 30 s ahead");
  expect(text).toContain("3 in 1 gap 42 to 44 of reef display temperature");
  expect(text).toContain("70 %");
  expect(text).toContain("implausible times");
});

it("says that nothing came, and that nothing lacks", () => {
  expect(shown({})).toContain("Nothing has arrived.");
  expect(shown({})).toContain("Every stream with an expected interval is complete.");
});

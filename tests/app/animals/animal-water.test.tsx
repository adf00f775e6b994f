/** What the page of an animal's water shows of months that were and were not read, and of a system that measures nothing. */
import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { LifeOf, Visits } from "#app/animals/_parts/animal-water.tsx";
import type { AnimalWaterView, MonthOfLife, QuantityOfVisit } from "#contract/animal-water.ts";

const APRIL = Date.UTC(2026, 2, 31, 23);
const MAY = Date.UTC(2026, 3, 30, 23);
const JUNE = Date.UTC(2026, 4, 31, 23);
const NONE = { n: 0, low: null, median: null, high: null };
const fit = {
  scored: 2880,
  possible: 2880,
  share: 0.75,
  typicalMiss: 0.4,
  typicalDeviation: 0.2,
  widestMiss: 1.25,
};
const held = { stage: "adult", basis: "native", range: { low: 10, high: 14 }, fit } as const;
const month = (change: Partial<MonthOfLife>): MonthOfLife => ({
  year: 2026,
  month: 4,
  from: APRIL,
  to: MAY,
  water: { n: 240, low: 13.2, median: 13.9, high: 14.6 },
  read: { good: 2880, possible: 2880 },
  held: [held],
  ...change,
});
const unread = {
  ...fit,
  scored: 0,
  share: null,
  typicalMiss: null,
  typicalDeviation: null,
  widestMiss: null,
};
const temperature: QuantityOfVisit = {
  quantity: "temperature",
  point: "display",
  origin: "probe",
  water: { n: 240, low: 13.2, median: 13.9, high: 14.6 },
  read: { good: 2880, possible: 5856 },
  held: [{ ...held, range: null }],
  months: [
    month({}),
    month({
      month: 5,
      from: MAY,
      to: JUNE,
      water: NONE,
      read: { good: 0, possible: 2976 },
      held: [{ ...held, fit: unread }],
    }),
  ],
};
const nowhere: QuantityOfVisit = {
  ...temperature,
  point: null,
  origin: null,
  water: NONE,
  read: { good: 0, possible: 96 },
  held: [],
  months: [],
};
const of: AnimalWaterView["quantities"][number] = {
  quantity: "temperature",
  label: "Temperature",
  unit: "Cel",
  unitLabel: "°C",
  decimals: 1,
  read: { good: 2880, possible: 5952 },
  fits: [{ basis: "native", fit }],
  unread: [{ system: "pool", systemName: "Pool 2", days: 1 }],
  says: "Temperature: told in words.",
  sources: [
    {
      stage: "adult",
      basis: "native",
      place: "a reef",
      source: "a survey",
      mark: "read",
      confidence: "high",
    },
  ],
};
const visit = { siteName: "Hall", zone: "Europe/London", ended: null, stays: [] };
const view: AnimalWaterView = {
  now: JUNE,
  zone: "Europe/London",
  animal: "bramble",
  name: "Bramble",
  species: "wolf-eel",
  speciesName: "Wolf-eel",
  population: null,
  sex: null,
  year: null,
  years: [2026],
  from: APRIL,
  to: JUNE,
  isWhole: true,
  livesIn: [],
  quantities: [of],
  visits: [
    {
      ...visit,
      system: "kelp",
      systemName: "Kelp Gallery",
      from: APRIL,
      to: JUNE,
      ended: "moved",
      stays: [{ stage: "adult", count: 1, from: APRIL, to: JUNE }],
      quantities: [temperature],
    },
    { ...visit, system: "pool", systemName: "Pool 2", from: JUNE, to: null, quantities: [nowhere] },
  ],
};
const words = (html: string) => html.replace(/<[^>]+>/g, " ").replace(/\s+/g, " ");

test("a visit shows the share inside beside how much was read, and a system that measures nothing says so", () => {
  const shown = words(renderToStaticMarkup(<Visits view={view} />));
  expect(shown).toMatch(/Kelp Gallery Wed 1 Apr 2026 to Mon 1 Jun 2026, moved · adult 75 % \(49 % covered\)/);
  expect(shown).toMatch(/Pool 2 Mon 1 Jun 2026 to now · not measured/);
});
test("a month shows typical value, range, share and misses; one that was not read shows no number at all", () => {
  const html = renderToStaticMarkup(<LifeOf view={view} of={of} />);
  const shown = words(html);
  expect(shown).toMatch(/April 2026 13\.9 \(13\.2 to 14\.6\) 10\.0 to 14\.0 75 % \+0\.4 \+1\.3 100 %/);
  expect(shown).toMatch(/May 2026 not read 0 %/);
  expect(shown).toContain("not measured there");
  expect(shown).toContain("Range from a survey (read, a reef; adult; native; confidence high)");
  // Colour only where it missed: in April, and of the whole.
  expect(html.match(/<td data-out="true">/g)).toHaveLength(1);
});

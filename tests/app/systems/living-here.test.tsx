/** What the System page says of who lives there, and the bars over its charts while a birth is awaited. */
import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { watchBars } from "#app/systems/_parts/lane/watch-bars.ts";
import { LivingHere } from "#app/systems/_parts/system/living-here.tsx";
import type { StayView, WatchView } from "#contract/habitat.ts";
import { clockOf } from "#core/time/zone-clock.ts";

const DAY = 86_400_000;
const NOW = Date.UTC(2026, 10, 10, 12);
const ZONE = "Europe/London";
const clock = clockOf(ZONE);

const stay = (change: Partial<StayView> = {}): StayView => ({
  id: "stay-1",
  animal: "animal-1",
  species: "cownose-ray",
  speciesName: "Cownose ray",
  population: null,
  name: null,
  sex: null,
  stage: "adult",
  count: 4,
  from: Date.UTC(2026, 2, 3, 12),
  to: null,
  ended: null,
  hasProfile: true,
  ...change,
});
const watch = (change: Partial<WatchView> = {}): WatchView => ({
  id: "watch-1",
  animal: "animal-1",
  who: "Tuppence",
  species: "cownose-ray",
  kind: "gestation",
  first: NOW - 340 * DAY,
  last: NOW - 300 * DAY,
  shortestDays: 330,
  longestDays: 365,
  source: "invented",
  earliest: NOW - 10 * DAY,
  latest: NOW + 65 * DAY,
  unbounded: null,
  narrowed: null,
  stand: "in window",
  pool: null,
  spans: [{ from: NOW - 10 * DAY, to: null }],
  watched: true,
  outcome: null,
  ended: null,
  events: [],
  ...change,
});
const page = (residents: readonly StayView[], watches: readonly WatchView[]) =>
  renderToStaticMarkup(
    <LivingHere
      view={{ zone: ZONE, system: "ray-lagoon", residents: [...residents], watches: [...watches] }}
    />,
  );
const words = (html: string) => html.replace(/<[^>]+>/g, " ").replace(/\s+/g, " ");

test("names each animal or group with number, stage and day, leads to it, and says what a watch forbids now", () => {
  const named = stay({
    id: "s2",
    animal: "an/2",
    name: "Tuppence",
    count: 1,
    sex: "female",
    stage: "gestating",
  });
  const html = page([stay({ hasProfile: false }), named], [watch()]);
  expect(html).toContain('href="/animals/an%2F2"');
  expect(words(html)).toMatch(/4 Cownose ray adult · since Tue 3 Mar 2026 · no profile/);
  expect(words(html)).toMatch(/Tuppence, Cownose ray gestating, female · since/);
  expect(words(html)).toMatch(
    /Tuppence : birth expected, in its window, from Sat 31 Oct 2026 to Thu 14 Jan 2027 Now: no set-point ramps or planned catch-ups/,
  );
});

test("before its window a watch forbids nothing yet, an ended one is not shown, and an empty system says so", () => {
  const before = watch({ stand: "before", watched: false, spans: [{ from: NOW + DAY, to: null }] });
  expect(words(page([stay()], [before]))).toContain("Once the window opens: no set-point ramps");
  expect(words(page([stay()], [watch({ stand: "ended", watched: false })]))).not.toContain(
    "Breeding watches",
  );
  const empty = page([], []);
  expect(words(empty)).toContain("No residents.");
  expect(empty).toContain("/set-up/systems/ray-lagoon#residents");
});

test("folds all but eight", () => {
  const many = Array.from({ length: 11 }, (_, i) => stay({ id: `s${i}` }));
  expect(words(page(many, []))).toContain("3 more");
});

test("a bar runs over the window, one that is past its late edge goes on as overdue, and an ended one stops", () => {
  const bars = (change: Partial<WatchView>) => watchBars([watch(change)], NOW, clock);
  expect(bars({})).toMatchObject([
    { from: NOW - 10 * DAY, to: NOW + 65 * DAY, isOver: false, label: "Tuppence: birth expected" },
  ]);
  expect(bars({})[0]?.says).toContain("no set-point ramps, no planned catch-ups");
  expect(bars({ latest: null, unbounded: "storage possible", stand: "not bounded" })).toMatchObject([
    { to: Number.POSITIVE_INFINITY },
  ]);
  const late = { latest: NOW - 2 * DAY, stand: "overdue" } as const;
  expect(bars(late)).toMatchObject([
    { from: NOW - 10 * DAY, to: NOW - 2 * DAY, isOver: false },
    { from: NOW - 2 * DAY, to: Number.POSITIVE_INFINITY, isOver: true },
  ]);
  const ended = {
    stand: "ended",
    ended: NOW - DAY,
    spans: [{ from: NOW - 10 * DAY, to: NOW - DAY }],
  } as const;
  expect(bars({ ...ended, spans: [...ended.spans], latest: NOW - 2 * DAY })).toMatchObject([
    { to: NOW - 2 * DAY },
    { from: NOW - 2 * DAY, to: NOW - DAY, isOver: true, label: expect.stringContaining("overdue since") },
  ]);
  const narrowed = { earliest: NOW - DAY, latest: NOW + DAY, by: "Ada", at: NOW, reason: "seen" };
  expect(bars({ narrowed, spans: [{ from: NOW - DAY, to: null }] })).toMatchObject([
    { from: NOW - DAY, to: NOW + DAY },
  ]);
});

/** What happens between two slices of judging late data again must not change what is claimed in the end. */
import { afterEach, expect, test } from "vitest";
import type { Store } from "#store/port.ts";
import { claimsOf, evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { firstDifference } from "#tests/helpers/first-difference.ts";
import { temporaryStore } from "#tests/helpers/open-store.ts";
import { setUpSmallSite } from "#tests/helpers/small-site.ts";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
/** Half an hour after midnight in the site's zone (British summer time): the last slice but one ends at a moment just before. */
const NOW = Date.UTC(2026, 8, 4, 23, 30);
const FIRST = NOW - 3 * DAY;

const closers: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0)) await close();
});

async function opened() {
  const temporary = await temporaryStore();
  closers.push(() => temporary.dispose());
  const site = await setUpSmallSite(temporary.store, FIRST - DAY);
  return { store: temporary.store, site };
}
interface Reading {
  readonly at: number;
  readonly value: number;
}
const every = (minutes: number, from: number, to: number, value: (i: number) => number): Reading[] =>
  Array.from({ length: Math.floor((to - from) / (minutes * MINUTE)) }, (_, i) => ({
    at: from + i * minutes * MINUTE,
    value: value(i),
  }));

async function append(
  store: Store,
  now: number,
  stream: number,
  source: number,
  readings: readonly Reading[],
) {
  await store.append({
    now,
    readings: readings.map((each) => ({ stream, source, ...each, sequence: null, mark: null })),
    rejected: [],
    unclaimed: [],
  });
}

/** Salinity that leaves its band for some hours a day, and the temperature it is computed with. */
const TEMPERATURE = every(5, FIRST, NOW, (i) => 15 + Math.sin(i / 40));
const CONDUCTIVITY = every(5, FIRST, NOW, (i) => (i % 288 > 250 ? 38 : 41) + Math.sin(i) / 20);
const OUT_OF_ORDER: Reading = { at: NOW - 42 * MINUTE, value: 18.6 };

type Between = (world: { store: Store; site: Awaited<ReturnType<typeof opened>>["site"] }) => Promise<void>;

/** Live temperature first, conductivity imported behind; `between` happens after so many passes; then claims are compared. */
async function claimsWhen(passes: number, between: Between, restart = false): Promise<unknown> {
  const { store, site } = await opened();
  // Three readings a commit: ten minutes old at most, so that none is late.
  for (let i = 0; i < TEMPERATURE.length; i += 3) {
    const few = TEMPERATURE.slice(i, i + 3);
    await append(store, (few.at(-1)?.at ?? 0) + 1_000, site.streams.temperature.id, site.gateway, few);
  }
  let evaluator = await evaluatorOf(store);
  await evaluateAll(evaluator);
  await append(store, NOW + MINUTE, site.streams.conductivity.id, site.history, CONDUCTIVITY);
  for (let pass = 0; pass < passes; pass++) await evaluator.pass({ hurry: true });
  await between({ store, site });
  if (restart) evaluator = await evaluatorOf(store);
  await evaluateAll(evaluator);
  return await claimsOf(store);
}
/** Enough for every slice of three days and for the state after the last. */
const EVERY_MOMENT = [1, 2, 3, 4, 5];

test("a reading that comes out of order between two slices is in what is judged again", async () => {
  const disturb: Between = ({ store, site }) =>
    append(store, NOW + 2 * MINUTE, site.streams.temperature.id, site.gateway, [OUT_OF_ORDER]);
  const expected = await claimsWhen(100, disturb);
  for (const passes of EVERY_MOMENT)
    expect(await claimsWhen(passes, disturb), `after ${passes} passes`).toEqual(expected);
});

test("a stream that is new between two slices is judged with the rest", async () => {
  const disturb: Between = async ({ store, site }) => {
    const orp = await store.ensureStream("display-id", "orp", "probe", { interval: 5 * MINUTE });
    // All of it ahead of every slice but the last, which would otherwise start anew anyway.
    const readings = every(1, NOW - 25 * MINUTE, NOW, (i) => 300 + i);
    await append(store, NOW + 2 * MINUTE, orp.id, site.history, readings);
  };
  const expected = await claimsWhen(100, disturb);
  for (const passes of EVERY_MOMENT)
    expect(await claimsWhen(passes, disturb), `after ${passes} passes`).toEqual(expected);
});

test("an evaluator that ends between two slices leaves nothing half judged", async () => {
  const expected = await claimsWhen(100, async () => {});
  for (const passes of EVERY_MOMENT)
    expect(await claimsWhen(passes, async () => {}, true), `after ${passes} passes`).toEqual(expected);
});

test("recorded data of a sender first heard of while the evaluator runs keeps its own time", async () => {
  const { store, site } = await opened();
  const evaluator = await evaluatorOf(store);
  await evaluateAll(evaluator);
  const source = await store.ensureSource("history:replay-1", "history");
  const lastYear = every(5, NOW - 365 * DAY, NOW - 364 * DAY, (i) => 18.5 + (i % 2) * 0.01);
  await append(store, NOW, site.streams.temperature.id, source.id, lastYear);
  await evaluateAll(evaluator);
  expect(await store.readFlags(site.streams.temperature.id, 0, NOW, 10)).toEqual([]);
  const days = await store.readRollups({
    streams: [site.streams.temperature.id],
    from: 0,
    to: NOW,
    width: DAY,
  });
  expect(days.reduce((sum, row) => sum + row.n, 0)).toBe(288);
  expect((await store.readFindings({ limit: 10 })).map(({ kind, late }) => [kind, late])).toEqual([
    ["out of band", true],
  ]);
});

test("an excursion that came and went while no evaluator ran is one alarm, though its probe reports after another of higher rank", async () => {
  const { store, site } = await opened();
  const { temperature, conductivity, ph, oxygen } = site.streams;
  for (let step = 0; step < 14; step++) {
    const at = FIRST + step * 5 * MINUTE;
    // One commit each; oxygen is judged before pH, and comes after it.
    const values = [
      [temperature, 15],
      [conductivity, 41],
      [ph, 8.05],
      [oxygen, step >= 3 && step < 10 ? 6 : 8.1],
    ] as const;
    for (const [index, [stream, value]] of values.entries())
      await append(store, at + index * 1_000, stream.id, site.gateway, [{ at, value }]);
  }
  await evaluateAll(await evaluatorOf(store));
  const alarms = (await store.readAlarms({ limit: 10 })).filter((alarm) => alarm.kind === "out of band");
  expect(alarms.map(({ quantity, rule, state }) => [quantity, rule, state])).toEqual([
    ["oxygen_saturation", "low", "RTN_UNACK"],
  ]);
  const transitions = await store.readTransitions(alarms[0]?.id ?? "");
  // Three samples of delay to raise and three good ones to return, each seen at the reading that made it so.
  expect(transitions.map(({ to, eventAt }) => [to, (eventAt - FIRST) / (5 * MINUTE)])).toEqual([
    ["UNACK", 6],
    ["RTN_UNACK", 13],
  ]);
});

test("a fresh reading out of order is folded in at once: in a system's first minutes, and after late data has been judged again", async () => {
  const { store, site } = await opened();
  const { temperature, ph, conductivity } = site.streams;
  const evaluator = await evaluatorOf(store);
  const outOfOrder = async (at: number) => {
    await append(store, at + 1_000, ph.id, site.gateway, [{ at, value: 8 }]);
    await evaluator.pass();
    await append(store, at + 2_000, temperature.id, site.gateway, [{ at, value: 15 }]);
    await evaluator.pass();
    expect(await store.readRejudgeRanges()).toEqual([]);
    expect((await store.readCurrent([temperature.id]))[0]?.at).toBe(at);
  };
  await outOfOrder(NOW);
  await append(store, NOW + MINUTE, conductivity.id, site.history, CONDUCTIVITY);
  await evaluateAll(evaluator);
  await outOfOrder(NOW + 2 * MINUTE);
});

test("recorded readings that go on while older ones are judged again are in what becomes the live state", async () => {
  const noon = NOW - 11.5 * HOUR;
  const halves = (readings: readonly Reading[]) => [
    readings.filter(({ at }) => at < noon),
    readings.filter(({ at }) => at >= noon),
  ];
  const [early = [], rest = []] = halves(TEMPERATURE);
  const claimsAfter = async (passes: number) => {
    const { store, site } = await opened();
    const { temperature, conductivity } = site.streams;
    const evaluator = await evaluatorOf(store);
    const received = NOW + 400 * DAY;
    await append(store, received, temperature.id, site.history, early);
    await append(store, received, conductivity.id, site.history, halves(CONDUCTIVITY)[0] ?? []);
    for (let pass = 0; pass < passes; pass++) await evaluator.pass({ hurry: true });
    await append(store, received, temperature.id, site.history, rest);
    await evaluateAll(evaluator);
    return await claimsOf(store);
  };
  const expected = await claimsAfter(100);
  for (const passes of EVERY_MOMENT)
    expect(firstDifference(await claimsAfter(passes), expected), `after ${passes} passes`).toBeNull();
});

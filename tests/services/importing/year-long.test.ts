/** A year of a sonde goes in, is withdrawn, and goes in again: every time as many readings, and the same rollups, as the file itself says. */
import { expect, it } from "vitest";
import type { ImportPlan } from "#core/importing/plan.ts";
import { isGood } from "#core/quality/flag.ts";
import { withdrawImport } from "#services/importing/import-readings.ts";
import type { Store } from "#store/port.ts";
import { QUANTITIES } from "#tests/faults/sonde-site.ts";
import { inEachStore, type OpenStore } from "#tests/helpers/each-store.ts";
import { claimsOf, evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { firstDifference } from "#tests/helpers/first-difference.ts";
import { actorWith } from "../world.ts";
import { importWhole, importWorld, NOW, SONDE_PLAN } from "./import-world.ts";
import { type YearCells, type YearRecord, yearRecord } from "./year-record.ts";

const CURATOR = actorWith("curator", "curator");
const SYSTEM = "bay";
const THREE_HOURS = 10_800_000;
const DAY = 86_400_000;
const PLAN: ImportPlan = {
  ...SONDE_PLAN,
  layout: {
    kind: "wide",
    columns: QUANTITIES.map((quantity) => ({
      column: quantity,
      target: { system: SYSTEM, point: "display", quantity, unit: null },
    })),
  },
};

/** Three hours of a quantity, by the arithmetic of this file alone; what is doubtful counts as a reading and for nothing else. */
function rollupsOf(cells: YearCells, doubtful: ReadonlySet<number>) {
  const found = new Map<number, { n: number; values: number[] }>();
  for (const [at, value] of cells) {
    const start = at - (at % THREE_HOURS);
    const hours = found.get(start) ?? { n: 0, values: [] };
    found.set(start, hours);
    hours.n += 1;
    if (!doubtful.has(at)) hours.values.push(value);
  }
  return [...found].map(([start, { n, values }]) => {
    const good = values.length;
    if (good === 0) return { start, n, good, min: null, max: null, mean: null };
    const mean = Number((values.reduce((sum, value) => sum + value, 0) / good).toFixed(9));
    return { start, n, good, min: Math.min(...values), max: Math.max(...values), mean };
  });
}

async function judged(store: Store): Promise<unknown> {
  const evaluator = await evaluatorOf(store, () => NOW);
  await evaluateAll(evaluator);
  await evaluator.release();
  return await claimsOf(store);
}

/** The store holds what the record does: no reading more, and of every three hours what they come to. */
async function expectWhole(store: Store, streams: ReadonlyMap<string, number>, record: YearRecord) {
  const all = [...record.cells.values()].reduce((sum, cells) => sum + cells.length, 0);
  expect((await store.status()).counts.readings).toBe(all);
  for (const [quantity, cells] of record.cells) {
    const stream = streams.get(`${SYSTEM} ${quantity}`) as number;
    const range = { streams: [stream], from: 0, to: NOW };
    const flags = await store.readFlags(stream, 0, NOW, cells.length);
    const doubtful = new Set(flags.filter(({ flag }) => !isGood(flag)).map(({ at }) => at));
    expect(doubtful.size, quantity).toBeLessThan(cells.length / 100);
    const hours = (await store.readRollups({ ...range, width: THREE_HOURS })).map((row) => ({
      start: row.start,
      n: row.n,
      good: row.good,
      min: row.min,
      max: row.max,
      mean: row.good === 0 ? null : Number((row.sum / row.good).toFixed(9)),
    }));
    expect(firstDifference(hours, rollupsOf(cells, doubtful)), quantity).toBeNull();
    const days = await store.readRollups({ ...range, width: DAY });
    expect(days.reduce((sum, row) => sum + row.n, 0)).toBe(cells.length);
    // 365 days of which nine are empty; the first and the last are halves of one.
    expect(days.length).toBeGreaterThan(355);
  }
}

function suite(minutes: number, open: OpenStore): void {
  it(`at a row every ${minutes} minutes`, { timeout: 60_000 }, async () => {
    const record = yearRecord(minutes);
    const { store, dispose } = await open();
    const { deps, streams } = await importWorld(store);
    const empty = await judged(store);

    const first = await importWhole(deps, CURATOR, PLAN, record.csv);
    expect(first.state).toBe("done");
    const claimed = await judged(store);
    await expectWhole(store, streams, record);
    const findings = await store.readFindings({ limit: 100_000 });
    expect(findings.length).toBeGreaterThan(20);

    await withdrawImport(deps, CURATOR, first.id, { reason: "the wrong sonde" });
    expect(firstDifference(await judged(store), empty)).toBeNull();
    expect((await store.status()).counts.readings).toBe(0);

    const second = await importWhole(deps, CURATOR, PLAN, record.csv);
    expect(second.report).toEqual(first.report);
    expect(second.stored).toBe(first.stored);
    expect(firstDifference(await judged(store), claimed)).toBeNull();
    await expectWhole(store, streams, record);
    await dispose();
  });
}

inEachStore("a year-long record", {
  sqlite: (open) => suite(60, open),
  postgres: (open) => suite(120, open),
});

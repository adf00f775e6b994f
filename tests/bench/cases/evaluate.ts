/**
 * Readings judged a second: the whole evaluator on SQLite with its commits, the fold alone without a store, beside a scan of the same
 * rows. Also what the readings, and everything made of them, take on disk.
 */

import { rm, stat } from "node:fs/promises";
import BetterSqlite3 from "better-sqlite3";
import { foldReading } from "#core/evaluate/fold.ts";
import { createFoldContext } from "#core/evaluate/fold-context.ts";
import { emptyOutputs } from "#core/evaluate/outputs.ts";
import { compileSystem } from "#core/evaluate/settings.ts";
import { emptyWater, writeWater } from "#core/evaluate/water-state.ts";
import { NO_CLOCKS } from "#core/gateway/clock-book.ts";
import { openEvaluator } from "#services/evaluate/evaluator.ts";
import { inputsBetween } from "#services/evaluate/inputs.ts";
import { compileSetUp } from "#services/evaluate/settings-of.ts";
import type { Store } from "#store/port.ts";
import { openSqlite } from "#store/sqlite/open.ts";
import { temporaryStore } from "#tests/helpers/open-store.ts";
import { type BenchOptions, type BenchRow, median, scaled, steadyRandom, timed } from "../bench-row.ts";
import { CADENCE, MEASURED_PER_SYSTEM, readingsAt, setUpBenchSite } from "../invented-site.ts";

export const name = "evaluate";

const SYSTEMS = 20;
const T0 = Date.parse("2026-02-01T00:00:00Z");
const FOREVER = Number.MAX_SAFE_INTEGER;

/** A store filled as a site fills it: one commit for all streams at each instant, five minutes apart. */
async function filled(instants: number): Promise<{ file: string; dispose(): Promise<void> }> {
  const { store, file, dispose } = await temporaryStore();
  const site = await setUpBenchSite(store, SYSTEMS, T0);
  for (let n = 0; n < instants; n += 1) {
    const at = T0 + n * CADENCE;
    await store.append({ now: at + 1_000, readings: readingsAt(site, at), rejected: [], unclaimed: [] });
  }
  // Streams derived from others come into being with the first look: not part of what is measured.
  await compileSetUp(store);
  await store.close();
  return { file, dispose };
}

/** Every round begins with the same store, of which nothing has been judged; opened as the evaluating process opens it. */
async function withCopy<T>(
  file: string,
  round: number,
  body: (store: Store, copy: string) => Promise<T>,
): Promise<T> {
  const copy = `${file}.${round}`;
  const from = new BetterSqlite3(file, { readonly: true });
  await from.backup(copy);
  from.close();
  const store = await openSqlite({ file: copy, migrate: true, acknowledges: false });
  try {
    return await body(store, copy);
  } finally {
    await store.close();
    await rm(copy, { force: true });
  }
}

async function evaluateAll(store: Store): Promise<number> {
  const evaluator = await openEvaluator({
    store,
    leaseHolder: "bench",
    clock: () => T0,
    monotonic: () => performance.now(),
  });
  if (!evaluator) throw new Error("another evaluator holds the lease");
  let readings = 0;
  for (;;) {
    const report = await evaluator.pass();
    readings += report.readings;
    if (report.isIdle) break;
  }
  await evaluator.release();
  return readings;
}

/** Folds everything in order of its time; only the fold is on the clock. */
async function foldAll(store: Store): Promise<{ readings: number; ms: number }> {
  const { systems, sources } = await compileSetUp(store);
  let readings = 0;
  let ms = 0;
  for (const settings of systems.values()) {
    const inputs = await inputsBetween(store, settings, { sources, clocks: NO_CLOCKS }, 0, FOREVER, FOREVER);
    readings += inputs.length;
    const [folder, water] = [createFoldContext(settings), emptyWater()];
    let out = emptyOutputs();
    const began = performance.now();
    for (const [index, input] of inputs.entries()) {
      foldReading(folder, water, input, out);
      if (index % 1_000 === 0) out = emptyOutputs();
    }
    ms += performance.now() - began;
  }
  return { readings, ms };
}

function scan(file: string): { readings: number; sum: number } {
  const connection = new BetterSqlite3(file, { readonly: true });
  const rows = connection
    .prepare<[], [number, number, number, number, number]>(
      "select stream, at, value, delay, source from reading",
    )
    .raw();
  let readings = 0;
  let sum = 0;
  for (const [, , value] of rows.iterate()) {
    readings += 1;
    sum += value;
  }
  connection.close();
  return { readings, sum };
}

const YEAR_OF = [
  ["temperature", 25],
  ["conductivity", 53],
  ["ph", 8.1],
  ["dissolved_oxygen", 6.8],
  ["orp", 330],
  ["flow", 60],
] as const;

/** Bytes of one system's state (its checkpoint) after two months, and after a year of five-minute readings. */
function stateOverAYear(days: number): { readonly early: number; readonly late: number } {
  const streams = YEAR_OF.map(([quantity], i) => ({
    id: i + 1,
    system: "year",
    pointCode: "display",
    pointRole: "exhibit" as const,
    quantity,
    origin: "probe" as const,
    interval: CADENCE,
    critical: true,
  }));
  const system = { id: "year", water: "marine" as const, volume: 100, youngFilter: false };
  const facts = { system, zone: "Europe/London", elevation: 0, streams, bands: [], plans: [] };
  const [folder, water] = [createFoldContext(compileSystem(facts)), emptyWater()];
  const next = steadyRandom(13);
  let early = 0;
  for (let n = 0; n < days * 288; n += 1) {
    const at = T0 + n * CADENCE;
    const out = emptyOutputs();
    for (const { id: stream } of folder.settings.streams) {
      const usual = YEAR_OF[stream - 1]?.[1] ?? 0;
      const day = Math.sin((2 * Math.PI * n) / 288);
      const value = Number((usual * (1 + 0.002 * day + 0.001 * next())).toFixed(3));
      foldReading(folder, water, { stream, at, value, received: at, mark: null, recorded: false }, out);
    }
    if (n === Math.floor(days / 6) * 288) early = writeWater(water).length;
  }
  return { early, late: writeWater(water).length };
}

function pagesOf(file: string, table: string | null): number {
  const connection = new BetterSqlite3(file, { readonly: true });
  try {
    if (table === null)
      return connection
        .prepare<[], number>("select page_count * page_size from pragma_page_count, pragma_page_size")
        .pluck()
        .get() as number;
    return connection
      .prepare<[string], number>("select sum(pgsize) from dbstat where name = ?")
      .pluck()
      .get(table) as number;
  } finally {
    connection.close();
  }
}

export async function run({ scale, say }: BenchOptions): Promise<BenchRow[]> {
  const instants = scaled(800, scale, 24);
  const rounds = scaled(5, scale, 1);
  const readings = instants * SYSTEMS * MEASURED_PER_SYSTEM;
  say(`  ${readings} readings of ${SYSTEMS} systems`);
  const source = await filled(instants);
  const empty = await temporaryStore();
  try {
    const emptyBytes = (await stat(empty.file)).size;
    const rates = { whole: [] as number[], fold: [] as number[], scan: [] as number[] };
    let bytes = { raw: 0, all: 0 };
    for (let round = 0; round < rounds; round += 1) {
      await withCopy(source.file, round, async (store, copy) => {
        const scanMs = await timed(() => {
          if (scan(copy).readings !== readings) throw new Error("the scan did not see every reading");
        });
        rates.scan.push((readings / scanMs) * 1_000);
        const folded = await foldAll(store);
        rates.fold.push((folded.readings / folded.ms) * 1_000);
        let judged = 0;
        const wholeMs = await timed(async () => {
          judged = await evaluateAll(store);
        });
        if (judged !== readings) throw new Error(`${judged} of ${readings} readings were judged`);
        rates.whole.push((readings / wholeMs) * 1_000);
        await store.close();
        bytes = { raw: pagesOf(copy, "reading"), all: pagesOf(copy, null) - emptyBytes };
      });
    }
    const state = stateOverAYear(scaled(365, scale, 90));
    const reference = {
      unit: "readings/s",
      reference: median(rates.scan),
      referenceIs: "a scan of the same rows",
    };
    const each = { unit: "bytes", reference: null };
    return [
      {
        what: "judged and committed",
        ours: median(rates.whole),
        ...reference,
        target: { of: "ours", atLeast: 50_000 },
      },
      { what: "the fold alone", ours: median(rates.fold), ...reference, target: null },
      {
        what: "on disk, the raw row",
        ours: bytes.raw / readings,
        ...each,
        referenceIs: "",
        target: { of: "ours", atMost: 32 },
      },
      {
        what: "on disk, everything, a reading",
        ours: bytes.all / readings,
        ...each,
        referenceIs: "",
        target: { of: "ours", atMost: 90 },
      },
      {
        what: "state of a system after a year",
        unit: "bytes",
        ours: state.late,
        reference: state.early,
        referenceIs: "the same after two months",
        target: { of: "ratio", atMost: 1.1 },
      },
    ];
  } finally {
    await source.dispose();
    await empty.dispose();
  }
}

/** Imports over both stores: what a trial says is what happens; a withdrawn import leaves nothing behind; the same file goes in again. */
import { expect, it } from "vitest";
import { totalsOf } from "#core/importing/report.ts";
import { continueImport, readImports, withdrawImport } from "#services/importing/import-readings.ts";
import type { Store } from "#store/port.ts";
import { sondeRecord } from "#tests/faults/sonde-record.ts";
import { inEachStore, type OpenStore } from "#tests/helpers/each-store.ts";
import { claimsOf, evaluateAll, evaluatorOf } from "#tests/helpers/evaluated.ts";
import { firstDifference } from "#tests/helpers/first-difference.ts";
import { actorWith } from "../world.ts";
import { begin, importWhole, importWorld, NOW, SONDE_PLAN, tryWhole } from "./import-world.ts";

const CURATOR = actorWith("curator", "curator");
const RECORD = sondeRecord(1_500);
const FROM = RECORD.cells[0]?.at ?? 0;

/** Same claims, or the first place where they differ: whole claims are too long to print. */
const same = (a: unknown, b: unknown) => expect(firstDifference(a, b)).toBeNull();

async function judged(store: Store): Promise<unknown> {
  const evaluator = await evaluatorOf(store, () => NOW);
  await evaluateAll(evaluator);
  await evaluator.release();
  return await claimsOf(store);
}
const cellsIn = async (store: Store, streams: ReadonlyMap<string, number>) =>
  (await store.readingsBetween([...streams.values()], 0, NOW, Number.MAX_SAFE_INTEGER)).length;

function suite(open: OpenStore): void {
  it("stores what the trial said, is withdrawn without a trace, and goes in again with the same counts, rollups and findings", async () => {
    const { store, dispose } = await open();
    const { deps, streams } = await importWorld(store);
    const before = await judged(store);
    const trial = await tryWhole(deps, CURATOR, SONDE_PLAN, RECORD.csv);
    expect(totalsOf(trial)).toMatchObject({
      stored: RECORD.cells.length,
      duplicates: 0,
      conflicts: 0,
      rejected: 0,
      from: FROM,
    });
    expect((await store.status()).counts.readings).toBe(0);

    const first = await importWhole(deps, CURATOR, SONDE_PLAN, RECORD.csv, async () => {
      const evaluator = await evaluatorOf(store, () => NOW);
      await evaluator.pass({ hurry: true });
      await evaluator.release();
      return true;
    });
    expect(first).toMatchObject({ state: "done", stored: RECORD.cells.length });
    expect(first.report).toEqual(trial);
    const claimed = await judged(store);
    const findings = await store.readFindings({ limit: 10_000 });
    expect(findings.length).toBeGreaterThan(3);
    expect(findings.every((finding) => finding.late)).toBe(true);
    expect(await store.readAlarms({ limit: 10 })).toEqual([]);

    const gone = await withdrawImport(deps, CURATOR, first.id, { reason: "wrong clock" });
    expect(gone).toMatchObject({ state: "withdrawn", withdrawnBy: "curator" });
    expect(await cellsIn(store, streams)).toBe(0);
    const stream = streams.get("bay temperature") as number;
    const raw = { stream, from: 0, to: NOW, resolution: "raw" as const, limit: 10 };
    expect((await store.readSeries(raw)).at).toEqual([]);
    same(await judged(store), before);
    expect(await store.readCurrent()).toEqual([]);
    expect((await store.status()).counts.readings).toBe(0);
    await expect(withdrawImport(deps, CURATOR, first.id, { reason: "again" })).rejects.toMatchObject({
      code: "conflict",
    });

    const second = await importWhole(deps, CURATOR, SONDE_PLAN, RECORD.csv);
    expect(second.id).not.toBe(first.id);
    expect(second.report).toEqual(trial);
    expect((await store.status()).counts.readings).toBe(RECORD.cells.length);
    expect(await cellsIn(store, streams)).toBe(RECORD.cells.length);
    same(await judged(store), claimed);
    // The first import stays as a record of what was done.
    expect((await readImports(deps, CURATOR)).imports.map((run) => run.state)).toEqual(["done", "withdrawn"]);
    await dispose();
  });

  it("leaves what a gateway sent as it was: equal values are there already, others conflict, and both ways back are exact", async () => {
    const { store, dispose } = await open();
    const { deps, streams } = await importWorld(store);
    const gateway = await store.ensureSource("gateway-7", "history");
    const stream = streams.get("bay temperature") as number;
    const cells = RECORD.cells.filter((cell) => cell.system === "bay" && cell.quantity === "temperature");
    const sent = (index: number, by = 0) => {
      const cell = cells[index] as (typeof cells)[number];
      return { stream, at: cell.at, value: cell.value + by, source: gateway.id, sequence: null, mark: null };
    };
    const append = (readings: ReturnType<typeof sent>[]) =>
      store.append({ now: NOW, readings, rejected: [], unclaimed: [] });
    await append([sent(0), sent(1), sent(2, 1.5)]);
    const alone = await judged(store);

    const trial = await tryWhole(deps, CURATOR, SONDE_PLAN, RECORD.csv);
    expect(totalsOf(trial)).toMatchObject({ stored: RECORD.cells.length - 3, duplicates: 2, conflicts: 1 });
    const run = await importWhole(deps, CURATOR, SONDE_PLAN, RECORD.csv);
    expect(run.report).toEqual(trial);
    // Sent after the import, for moments that it holds: another value is kept beside it.
    await append([sent(3, 2), sent(4)]);
    expect(await store.readingsAt([{ stream, at: sent(3).at }])).toEqual([sent(3).value]);
    await judged(store);
    expect(await store.readFlags(stream, sent(2).at, sent(2).at + 1, 1)).toMatchObject([
      { reasons: ["conflict"] },
    ]);

    await withdrawImport(deps, CURATOR, run.id, { reason: "wrong column" });
    const left = await store.readingsBetween([stream], 0, NOW, Number.MAX_SAFE_INTEGER);
    expect(left.map(({ at, value, mark }) => [at, value, mark])).toEqual(
      [0, 1]
        .map((i) => [sent(i).at, sent(i).value, null])
        .concat([
          [sent(2).at, sent(2, 1.5).value, null],
          [sent(3).at, sent(3, 2).value, null],
        ]),
    );
    expect((await store.status()).counts.readings).toBe(4);
    await judged(store);
    expect(await store.readFlags(stream, 0, NOW, 100)).toEqual([]);

    const again = await importWhole(deps, CURATOR, SONDE_PLAN, RECORD.csv);
    expect(totalsOf(again.report)).toMatchObject({
      stored: RECORD.cells.length - 4,
      duplicates: 2,
      conflicts: 2,
    });
    await withdrawImport(deps, CURATOR, again.id, { reason: "once more" });
    expect((await store.status()).counts.readings).toBe(4);
    expect(alone).toBeDefined();
    await dispose();
  });

  it("goes on where it was stopped, and refuses a piece for another place", async () => {
    const { store, dispose } = await open();
    const { deps } = await importWorld(store);
    let pieces = 0;
    const stopped = await importWhole(deps, CURATOR, SONDE_PLAN, RECORD.csv, async () => ++pieces < 2);
    expect(stopped.state).toBe("running");
    expect(stopped.position.bytes).toBeGreaterThan(0);
    const found = await begin(deps, CURATOR, SONDE_PLAN, RECORD.csv);
    expect(found).toEqual(stopped);
    const wrong = { bytes: 0, text: RECORD.csv.slice(0, 1_000), final: false };
    await expect(continueImport(deps, CURATOR, found.id, wrong)).rejects.toMatchObject({
      code: "conflict",
      message: expect.stringContaining(String(stopped.position.bytes)),
    });
    // Of two that hand in the same piece at once one is told to look again.
    const bytes = stopped.position.bytes;
    const piece = { bytes, text: RECORD.csv.slice(bytes, bytes + 5_000), final: false };
    const both = await Promise.allSettled([1, 2].map(() => continueImport(deps, CURATOR, found.id, piece)));
    expect(both.map((one) => one.status).sort()).toEqual(["fulfilled", "rejected"]);
    const done = await importWhole(deps, CURATOR, SONDE_PLAN, RECORD.csv);
    expect(done.id).toBe(stopped.id);
    expect(done.stored).toBe(RECORD.cells.length);
    await dispose();
  });
}

inEachStore("an import", { sqlite: suite, postgres: suite });

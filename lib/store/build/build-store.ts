import { checkBatch, whole } from "../check-batch.ts";
import { type Store, StoreError } from "../port.ts";
import { readArrivals, readNumbered } from "../queries/arrivals.ts";
import { benchBetween, benchOf, recordBench } from "../queries/bench.ts";
import { checkpointAtOrBefore, packCheckpoints } from "../queries/checkpoints.ts";
import { commitEvaluation } from "../queries/commit-evaluation.ts";
import { conflictsBetween } from "../queries/conflicts.ts";
import { readCursor, readRejudgeRanges } from "../queries/cursor.ts";
import type { Engine } from "../queries/engine.ts";
import { readCurrent, readDerived, readFlags, readRollups } from "../queries/evaluated.ts";
import { readAlarms, readFindings, readTransitions } from "../queries/findings.ts";
import { beginImport, readImport, readImports, readingsAt, withdrawImport } from "../queries/imports.ts";
import { addToJournal, journalAfter } from "../queries/journal.ts";
import { acquireLease, releaseLease } from "../queries/lease.ts";
import { readRejected, readUnclaimed } from "../queries/rejected.ts";
import { readSeries } from "../queries/series.ts";
import { readSetUp, writeSetUp } from "../queries/set-up.ts";
import { readStatus } from "../queries/status.ts";
import { findSource, findStream, makeSource, makeStream } from "../queries/streams.ts";
import { readBackups, readProcesses, recordBackup, recordRestore, reportProcess } from "../queries/upkeep.ts";
import { records } from "./build-records.ts";

/** The port over an engine: the same queries for both dialects, every failure a StoreError. */
export function buildStore(engine: Engine): Store {
  const { db, tables } = engine;
  const safely = async <T>(body: () => Promise<T>): Promise<T> => {
    try {
      return await body();
    } catch (error) {
      throw engine.storeError(error);
    }
  };
  let closed: Promise<void> | null = null;
  const atomically: Engine["atomically"] = (body) => safely(() => engine.atomically(body));
  return {
    dialect: engine.dialect,

    readSetUp: () => safely(() => engine.snapshot((at) => readSetUp(at, tables))),
    writeSetUp: (change, rejudge, now, audit) =>
      atomically((tx) => writeSetUp(tx.db, tables, change, rejudge, now, audit)),
    async ensureStream(point, quantity, origin, settings = {}) {
      const wanted = {
        point,
        quantity,
        origin,
        interval: settings.interval ?? null,
        critical: settings.critical ?? false,
      };
      const known = await safely(() => findStream(db, tables, wanted));
      return known ?? (await atomically((tx) => makeStream(tx.db, tables, wanted)));
    },
    async ensureSource(code, kind) {
      const known = await safely(() => findSource(db, tables, code));
      return known ?? (await atomically((tx) => makeSource(tx.db, tables, code, kind)));
    },

    append: (batch) =>
      safely(async () => {
        checkBatch(batch);
        return await engine.append(batch);
      }),
    recordBench: (test, now, audit) => {
      return atomically((tx) => {
        whole("now", now);
        whole("sampledAt", test.sampledAt);
        return recordBench(tx.db, tables, test, now, audit);
      });
    },
    note: (kind, ref, now) =>
      atomically(async (tx) => {
        whole("now", now);
        const [entry] = await addToJournal(tx.db, tables, now, [{ kind, ref }]);
        if (entry === undefined) throw new StoreError("unavailable", "The journal row was not stored.");
        return entry;
      }),

    journalAfter: (seq, limit) => safely(() => journalAfter(db, tables, seq, limit)),
    readingsOf: (entries) => safely(() => engine.readingsOf(entries)),
    readingsBetween: (streams, from, to, upTo) =>
      safely(() => engine.readingsBetween(streams, from, to, upTo)),
    conflictsBetween: (streams, from, to, upTo) =>
      safely(() => conflictsBetween(db, tables, streams, from, to, upTo)),
    firstReadingAt: (streams, from) => safely(() => engine.firstReadingAt(streams, from)),
    benchBetween: (streams, from, to, receivedUpTo) =>
      safely(() => benchBetween(db, tables, { streams, from, to, receivedUpTo })),
    benchOf: (entries) => safely(() => benchOf(db, tables, entries)),

    acquireLease: (name, holder, now, forMs) =>
      atomically((tx) => acquireLease(tx.db, tables, { name, holder, now, forMs })),
    releaseLease: (name, lease) => atomically((tx) => releaseLease(tx.db, tables, name, lease)),
    readCursor: () => safely(() => readCursor(db, tables)),
    readRejudgeRanges: () => safely(() => readRejudgeRanges(db, tables)),
    checkpointAtOrBefore: (system, at) => safely(() => checkpointAtOrBefore(db, tables, system, at)),
    commitEvaluation: (patch, expected) => {
      const checkpoints = packCheckpoints(patch.checkpoints);
      return atomically((tx) => commitEvaluation(tx, tables, patch, checkpoints, expected));
    },

    readCurrent: (streams) => safely(() => readCurrent(db, tables, streams)),
    readFindings: (query) => safely(() => readFindings(db, tables, query)),
    readAlarms: (query) => safely(() => readAlarms(db, tables, query)),
    readTransitions: (alarm) => safely(() => readTransitions(db, tables, alarm)),
    readSeries: (query) => safely(() => readSeries(db, tables, query)),
    readRollups: (query) => safely(() => readRollups(db, tables, query)),
    tallyStretches: (stretches) => safely(() => engine.tallyStretches(stretches)),
    readDerived: (stream, from, to, limit) =>
      safely(() => readDerived(db, tables, { stream, from, to, limit })),
    readFlags: (stream, from, to, limit) => safely(() => readFlags(db, tables, { stream, from, to, limit })),
    beginImport: (added, now, audit) => atomically((tx) => beginImport(tx.db, tables, added, now, audit)),
    readImports: (limit) => safely(() => readImports(db, tables, limit)),
    readImport: (id) => safely(() => readImport(db, tables, id)),
    withdrawImport: (withdrawn, now, audit) =>
      atomically((tx) => withdrawImport(tx.db, tables, withdrawn, now, audit)),
    readingsAt: (moments) => safely(() => readingsAt(db, tables, moments)),

    readArrivals: (query) => safely(() => readArrivals(db, tables, query)),
    readNumbered: (query) => safely(() => readNumbered(db, tables, query)),

    recordBackup: (run) => atomically((tx) => recordBackup(tx.db, tables, run)),
    readBackups: () => safely(() => readBackups(db, tables)),
    recordRestore: (now, audit) => atomically((tx) => recordRestore(tx.db, tables, now, audit)),
    reportProcess: (report) => atomically((tx) => reportProcess(tx.db, tables, report)),
    readProcesses: () => safely(() => readProcesses(db, tables)),

    readRejected: (limit) => safely(() => readRejected(db, tables, limit)),
    readUnclaimed: (limit) => safely(() => readUnclaimed(db, tables, limit)),

    ...records(db, tables, safely, atomically, (body) => engine.snapshot(body)),

    status: () =>
      safely(() =>
        engine.snapshot((at) => readStatus(at, tables, { dialect: engine.dialect, where: engine.where })),
      ),
    changeMark: () => safely(() => engine.changeMark()),
    close() {
      closed ??= safely(() => engine.close());
      return closed;
    },
  };
}

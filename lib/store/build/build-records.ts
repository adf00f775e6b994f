import type { Database } from "../kits/postgres.ts";
import type { Store } from "../port.ts";
import { accountRows } from "../queries/account-rows.ts";
import {
  acknowledge,
  acknowledgementOf,
  readAcknowledgement,
  readAlarm,
} from "../queries/acknowledgements.ts";
import { addAttempt, clearAttempts, readAttempts } from "../queries/attempts.ts";
import { readAudit, readAuditRow, verifyAudit } from "../queries/audit.ts";
import { lastBench, readBenchTest, voidBench } from "../queries/bench.ts";
import {
  readCalibration,
  readCalibrations,
  readCorrections,
  recordCalibration,
  voidCalibration,
} from "../queries/calibrations.ts";
import { placeClock, readSenderClocks, voidPlacement } from "../queries/clocks.ts";
import type { Engine } from "../queries/engine.ts";
import { readBandBasis, readHabitat, writeHabitat } from "../queries/habitat.ts";
import { readHandover, readHandovers, signHandover } from "../queries/handovers.ts";
import { readLog, readLogEntry, writeLog } from "../queries/log.ts";
import {
  addToken,
  hasPeople,
  peopleMark,
  readPasswordHash,
  readPeople,
  readPerson,
  readTokens,
  revokeToken,
  tokenByHash,
  writePerson,
} from "../queries/people.ts";
import type { Tables } from "../tables/tables.ts";

type Safely = <T>(body: () => Promise<T>) => Promise<T>;
type Records = Pick<
  Store,
  | "acknowledge"
  | "acknowledgementOf"
  | "readAcknowledgement"
  | "readAlarm"
  | "voidBench"
  | "readBenchTest"
  | "lastBench"
  | "writeLog"
  | "readLog"
  | "readLogEntry"
  | "readSenderClocks"
  | "placeClock"
  | "voidPlacement"
  | "recordCalibration"
  | "voidCalibration"
  | "readCalibrations"
  | "readCalibration"
  | "readCorrections"
  | "signHandover"
  | "readHandovers"
  | "readHandover"
  | "readAudit"
  | "readAuditRow"
  | "verifyAudit"
  | "readHabitat"
  | "readBandBasis"
  | "writeHabitat"
  | "hasPeople"
  | "readPeople"
  | "readPerson"
  | "writePerson"
  | "readPasswordHash"
  | "addToken"
  | "readTokens"
  | "tokenByHash"
  | "revokeToken"
  | "peopleMark"
  | "addAttempt"
  | "readAttempts"
  | "clearAttempts"
  | "accounts"
>;

/** The part of the port about people and what they do. */
export function records(
  db: Database,
  tables: Tables,
  safely: Safely,
  atomically: Engine["atomically"],
  snapshot: Engine["snapshot"],
): Records {
  const rows = accountRows(db, tables, atomically);
  return {
    acknowledge: (added, now, audit) => atomically((tx) => acknowledge(tx.db, tables, added, now, audit)),
    acknowledgementOf: (entries) => safely(() => acknowledgementOf(db, tables, entries)),
    readAcknowledgement: (clientId) => safely(() => readAcknowledgement(db, tables, clientId)),
    readAlarm: (id) => safely(() => readAlarm(db, tables, id)),
    voidBench: (added, now, audit) => atomically((tx) => voidBench(tx.db, tables, added, now, audit)),
    readBenchTest: (by) => safely(() => readBenchTest(db, tables, by)),
    lastBench: (streams, limit, until) => safely(() => lastBench(db, tables, streams, limit, until)),
    writeLog: (added, now, audit) => atomically((tx) => writeLog(tx.db, tables, added, now, audit)),
    readLog: (range) => safely(() => readLog(db, tables, range)),
    readLogEntry: (root) => safely(() => readLogEntry(db, tables, root)),
    readSenderClocks: () => safely(() => readSenderClocks(db, tables)),
    placeClock: (added, rejudge, now, audit) =>
      atomically((tx) => placeClock(tx.db, tables, added, rejudge, now, audit)),
    voidPlacement: (added, rejudge, now, audit) =>
      atomically((tx) => voidPlacement(tx.db, tables, added, rejudge, now, audit)),
    recordCalibration: (added, beside, now, audit) =>
      atomically((tx) => recordCalibration(tx.db, tables, added, beside, now, audit)),
    voidCalibration: (added, rejudgeFrom, now, audit) =>
      atomically((tx) => voidCalibration(tx.db, tables, added, rejudgeFrom, now, audit)),
    readCalibrations: (streams) => safely(() => readCalibrations(db, tables, streams)),
    readCalibration: (by) => safely(() => readCalibration(db, tables, by)),
    readCorrections: (streams) => safely(() => readCorrections(db, tables, streams)),
    signHandover: (added, audit) => atomically((tx) => signHandover(tx.db, tables, added, audit)),
    readHandovers: (query) => safely(() => readHandovers(db, tables, query)),
    readHandover: (by) => safely(() => readHandover(db, tables, by)),
    readAudit: (query) => safely(() => readAudit(db, tables, query)),
    readAuditRow: (seq) => safely(() => readAuditRow(db, tables, seq)),
    verifyAudit: () => safely(() => snapshot((at) => verifyAudit(at, tables))),
    readHabitat: () => safely(() => snapshot((at) => readHabitat(at, tables))),
    readBandBasis: (bands) => safely(() => readBandBasis(db, tables, bands)),
    writeHabitat: (change, rejudge, now, audit) =>
      atomically((tx) => writeHabitat(tx.db, tables, change, rejudge, now, audit)),
    hasPeople: () => safely(() => hasPeople(db, tables)),
    readPeople: (now) => safely(() => readPeople(db, tables, now)),
    readPerson: (by, now) => safely(() => readPerson(db, tables, by, now)),
    writePerson: (change, now, audit) => atomically((tx) => writePerson(tx.db, tables, change, now, audit)),
    readPasswordHash: (person) => safely(() => readPasswordHash(db, tables, person)),
    addToken: (token, audit) => atomically((tx) => addToken(tx.db, tables, token, audit)),
    readTokens: () => safely(() => readTokens(db, tables)),
    tokenByHash: (hash) => safely(() => tokenByHash(db, tables, hash)),
    revokeToken: (id, now, audit) => atomically((tx) => revokeToken(tx.db, tables, id, now, audit)),
    peopleMark: () => safely(() => peopleMark(db, tables)),
    addAttempt: (keys, now, windowMs, audit) =>
      atomically((tx) => addAttempt(tx.db, tables, keys, now, windowMs, audit)),
    readAttempts: (keys, now, windowMs) => safely(() => readAttempts(db, tables, keys, now, windowMs)),
    clearAttempts: (keys) => atomically((tx) => clearAttempts(tx.db, tables, keys)),
    accounts: {
      insert: rows.insert,
      update: rows.update,
      remove: rows.remove,
      find: (table, where, page) => safely(() => rows.find(table, where, page)),
      count: (table, where) => safely(() => rows.count(table, where)),
    },
  };
}

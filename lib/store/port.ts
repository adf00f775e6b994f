/**
 * What the rest of Homewater asks of a store. Two adapters keep it: SQLite (embedded, the default) and PostgreSQL.
 * One contract suite runs over both (tests/store/contract.ts). All instants are UTC milliseconds; every method rejects with
 * the driver's error as `cause` of a `StoreError` and never swallows one.
 */

import type { Acknowledgement } from "#core/alarms/acknowledgement.ts";
import type { Alarm, AlarmState, AlarmTransition } from "#core/alarms/alarm.ts";
import type { Finding, FindingKind, Severity } from "#core/alarms/finding.ts";
import type { AuditCheck, AuditRow, NewAudit } from "#core/audit/audit.ts";
import type {
  BenchOutcome,
  BenchResult,
  BenchVoid,
  NewBenchResult,
  NewBenchTest,
  StoredBenchTest,
} from "#core/bench/records.ts";
import type { Stretch, Tally } from "#core/fit/tally.ts";
import type { ClockAhead } from "#core/gateway/clock-ahead.ts";
import type { ClockPlacement } from "#core/gateway/clock-book.ts";
import type { BandEdges, TargetBand } from "#core/habitat/band.ts";
import type { PlanShape } from "#core/habitat/plan.ts";
import type { ImportRun, NewImport } from "#core/importing/run.ts";
import type { LogEntry, LogVersion } from "#core/logbook/entry.ts";
import type { Handover, NewHandover } from "#core/overnight/handover.ts";
import type { AccountRows, ApiToken, PersonChange, PersonWithGrants } from "#core/people/person.ts";
import type {
  Calibration,
  CalibrationVoid,
  Correction,
  NewCalibration,
  NewCorrection,
} from "#core/probes/calibration.ts";
import type { RollupRow } from "#core/quality/rollup.ts";
import type { BandBasis } from "#core/set-up/follow-residents.ts";
import type {
  Loop,
  Origin,
  Plan,
  Point,
  Resident,
  SetUp,
  Site,
  Source,
  SourceKind,
  Stream,
  System,
  WaterType,
} from "#core/set-up/set-up.ts";
import type { Instant } from "#core/time/instant.ts";
import type { BackupRun } from "#core/upkeep/backup-run.ts";
import type { ProcessReport } from "#core/upkeep/process-report.ts";
import type {
  AcceptBatch,
  AppendOutcome,
  ArrivalRow,
  Checkpoint,
  Current,
  DerivedRow,
  EvaluationPatch,
  FlagRow,
  Habitat,
  HabitatChange,
  JournalEntry,
  JournalKind,
  Lease,
  LogRange,
  NewPlacementVoid,
  NumberedReading,
  RejectedRow,
  RejudgeRange,
  Resolution,
  SeriesColumns,
  StoredOnce,
  StoredReading,
  StoreStatus,
  UnclaimedRow,
} from "./port-rows.ts";

export type * from "./port-rows.ts";
export type {
  Alarm,
  AlarmState,
  AlarmTransition,
  BandEdges,
  BenchOutcome,
  BenchResult,
  BenchVoid,
  Finding,
  FindingKind,
  Loop,
  NewBenchResult,
  NewBenchTest,
  Origin,
  Plan,
  PlanShape,
  Point,
  Resident,
  RollupRow,
  SetUp,
  Severity,
  Site,
  Source,
  SourceKind,
  StoredBenchTest,
  Stream,
  System,
  TargetBand,
  WaterType,
};

export interface Store {
  readonly dialect: "sqlite" | "postgres";

  /** Everything set up, in one consistent read. */
  readSetUp(): Promise<SetUp>;
  /** Insert or replace by id in one transaction; writes the journal rows of kind "set-up" named in `rejudge` in the same commit. */
  writeSetUp(
    change: Partial<SetUp>,
    rejudge: readonly { readonly system: string; readonly from: Instant }[],
    now: Instant,
    audit?: NewAudit,
  ): Promise<{ readonly received: Instant | null; readonly audit: number | null }>;
  /** The stream of a quantity at a point from an origin, created when new (interval null, not critical, unless given). */
  ensureStream(
    point: string,
    quantity: string,
    origin: Origin,
    settings?: { interval?: number | null; critical?: boolean },
  ): Promise<Stream>;
  ensureSource(code: string, kind: SourceKind): Promise<Source>;

  /** Store a batch in one durable commit; see AppendOutcome. */
  append(batch: AcceptBatch): Promise<AppendOutcome>;
  /** The value that stands for each of these moments, null where none does; in the order given. */
  readingsAt(
    moments: readonly { readonly stream: number; readonly at: Instant }[],
  ): Promise<readonly (number | null)[]>;
  /** Store one bench test in one durable commit, idempotent by client id. */
  recordBench(test: NewBenchTest, now: Instant, audit?: NewAudit): Promise<BenchOutcome>;
  /** Journal row without other data ("up": accepting has started; silence before it is our own). */
  note(kind: JournalKind, ref: string | null, now: Instant): Promise<JournalEntry>;

  journalAfter(seq: number, limit: number): Promise<readonly JournalEntry[]>;
  /** Readings of journal entries of kind "readings", ordered by (received, at, stream). */
  readingsOf(entries: readonly JournalEntry[]): Promise<readonly StoredReading[]>;
  /** Readings of these streams with from <= at < to and received <= receivedUpTo, ordered by at then stream. */
  readingsBetween(
    streams: readonly number[],
    from: Instant,
    to: Instant,
    receivedUpTo: Instant,
  ): Promise<readonly StoredReading[]>;
  /** The instant of the first reading at or after `from` of these streams, null when there is none. */
  firstReadingAt(streams: readonly number[], from: Instant): Promise<Instant | null>;
  /** Every span of a clock that ran ahead, oldest first, and the placements in force. */
  readSenderClocks(): Promise<{
    readonly clocks: readonly ClockAhead[];
    readonly placements: readonly ClockPlacement[];
  }>;
  /** Stores a placement once a client id, and has these streams judged again. Rejects with "invalid" where one is in force for its clock. */
  placeClock(
    added: Omit<ClockPlacement, "received">,
    rejudge: readonly { readonly stream: number; readonly from: Instant }[],
    now: Instant,
    audit: NewAudit,
  ): Promise<StoredOnce<ClockPlacement>>;
  /** Rejects with "invalid" where there is no such placement in force. */
  voidPlacement(
    added: NewPlacementVoid,
    rejudge: readonly { readonly stream: number; readonly from: Instant }[],
    now: Instant,
    audit: NewAudit,
  ): Promise<void>;
  /** Results in force with from <= at < to and received <= receivedUpTo, ordered by at then stream. */
  benchBetween(
    streams: readonly number[],
    from: Instant,
    to: Instant,
    receivedUpTo: Instant,
  ): Promise<readonly BenchResult[]>;

  /** Results written by journal entries of kind "bench" (also those since superseded), for their moments. */
  benchOf(entries: readonly JournalEntry[]): Promise<readonly BenchResult[]>;

  acquireLease(name: string, holder: string, now: Instant, forMs: number): Promise<Lease | null>;
  releaseLease(name: string, lease: Lease): Promise<void>;
  readCursor(): Promise<{ readonly seq: number; readonly received: Instant }>;
  readRejudgeRanges(): Promise<readonly RejudgeRange[]>;
  /** The newest checkpoint of a system with `at` <= the given instant. */
  checkpointAtOrBefore(system: string, at: Instant): Promise<Checkpoint | null>;
  /** Rejects with code "superseded" when the cursor or the lease is no longer the expected one; then nothing is written. */
  commitEvaluation(
    patch: EvaluationPatch,
    expected: { readonly seq: number; readonly lease: Lease; readonly leaseName: string },
  ): Promise<void>;

  readCurrent(streams?: readonly number[]): Promise<readonly Current[]>;
  /** Open = not ended; superseded ones never. Newest first. */
  readFindings(query: {
    open?: boolean;
    /** Only those that were found late. */
    late?: boolean;
    from?: Instant;
    to?: Instant;
    system?: string;
    limit: number;
  }): Promise<readonly Finding[]>;
  readAlarms(query: {
    active?: boolean;
    from?: Instant;
    to?: Instant;
    system?: string;
    limit: number;
  }): Promise<readonly Alarm[]>;
  readTransitions(alarm: string): Promise<readonly AlarmTransition[]>;
  readSeries(query: {
    stream: number;
    from: Instant;
    to: Instant;
    resolution: Resolution;
    limit: number;
  }): Promise<SeriesColumns>;
  readRollups(query: {
    streams: readonly number[];
    from: Instant;
    to: Instant;
    width: number;
  }): Promise<readonly RollupRow[]>;
  /** How the 15-minute means of each stretch lie against its range, in the order asked; equal to tallyOf over the same rows. */
  tallyStretches(stretches: readonly Stretch[]): Promise<readonly Tally[]>;
  readDerived(stream: number, from: Instant, to: Instant, limit: number): Promise<readonly DerivedRow[]>;
  readFlags(stream: number, from: Instant, to: Instant, limit: number): Promise<readonly FlagRow[]>;
  // ---------- imports: each is a source of its own ----------

  beginImport(added: NewImport, now: Instant, audit: NewAudit): Promise<ImportRun>;
  /** Newest first. */
  readImports(limit: number): Promise<readonly ImportRun[]>;
  readImport(id: string): Promise<ImportRun | null>;
  /**
   * Leaves every row of an import out from now on, everywhere; nothing is deleted. Where another source sent another value for the same
   * moment, that one stands now. Journal rows name what to judge again. Null where there is no such import, or it is withdrawn already.
   */
  withdrawImport(
    withdrawn: {
      readonly id: string;
      readonly by: string;
      readonly reason: string;
      readonly rejudge: readonly { readonly system: string; readonly from: Instant }[];
    },
    now: Instant,
    audit: NewAudit,
  ): Promise<ImportRun | null>;

  /** Of from <= at < to, by spans of `width` ms that begin at its multiples; ordered by stream, source, start. */
  readArrivals(query: {
    streams: readonly number[];
    from: Instant;
    to: Instant;
    width: number;
  }): Promise<readonly ArrivalRow[]>;
  /** Readings of one source with from <= at < to that carry a sequence number, newest first. */
  readNumbered(query: {
    source: number;
    streams: readonly number[];
    from: Instant;
    to: Instant;
    limit: number;
  }): Promise<readonly NumberedReading[]>;

  // ---------- upkeep ----------

  recordBackup(run: BackupRun): Promise<void>;
  /** The last attempt and the last one that was verified; null where there was none. */
  readBackups(): Promise<{ readonly last: BackupRun | null; readonly good: BackupRun | null }>;
  /** After a backup was put in place: ends every session, which were those of then, and says so in the trail. How many were ended. */
  recordRestore(now: Instant, audit: NewAudit): Promise<number>;
  /** One row a process; not in the journal. */
  reportProcess(report: ProcessReport): Promise<void>;
  readProcesses(): Promise<{
    readonly processes: readonly ProcessReport[];
    /** Who evaluates, and until when unless renewed. */
    readonly lease: { readonly holder: string; readonly expires: Instant } | null;
  }>;

  readRejected(limit: number): Promise<readonly RejectedRow[]>;
  readUnclaimed(limit: number): Promise<readonly UnclaimedRow[]>;

  // ---------- what people do: each write adds its audit row in the same commit; a client id is stored once ----------

  acknowledge(
    added: Omit<Acknowledgement, "received">,
    now: Instant,
    audit: NewAudit,
  ): Promise<StoredOnce<Acknowledgement>>;
  /** Acknowledgements of journal entries of kind "acknowledge", by receipt. */
  acknowledgementOf(entries: readonly JournalEntry[]): Promise<readonly Acknowledgement[]>;
  readAcknowledgement(clientId: string): Promise<Acknowledgement | null>;
  readAlarm(id: string): Promise<Alarm | null>;
  /** Rejects with "invalid" where there is no such result, or it is void already. */
  voidBench(
    added: Omit<BenchVoid, "received">,
    now: Instant,
    audit: NewAudit,
  ): Promise<StoredOnce<BenchVoid>>;
  readBenchTest(by: { clientId: string } | { result: string }): Promise<StoredBenchTest | null>;
  /** The newest results in force of each of these streams, newest first; `until`: sampled at that instant or before. */
  lastBench(streams: readonly number[], limit: number, until?: Instant): Promise<readonly BenchResult[]>;
  /** One version of a log entry. Rejects with "invalid" where another version was put after the same one. */
  writeLog(
    added: LogVersion,
    now: Instant,
    audit: NewAudit,
  ): Promise<{ readonly root: string; readonly received: Instant; readonly repeated: boolean }>;
  /** Newest first. */
  readLog(range: LogRange): Promise<readonly LogEntry[]>;
  readLogEntry(root: string): Promise<LogEntry | null>;
  /**
   * One visit to a probe, with its correction where there is one and its mark in the logbook, in one commit; judged again from `rejudgeFrom`.
   */
  recordCalibration(
    added: NewCalibration,
    beside: {
      readonly correction: NewCorrection | null;
      readonly log: LogVersion;
      readonly rejudgeFrom: Instant;
    },
    now: Instant,
    audit: NewAudit,
  ): Promise<StoredOnce<Calibration>>;
  /** Rejects with "invalid" where there is no such calibration, or it is void already. */
  voidCalibration(
    added: Omit<CalibrationVoid, "received">,
    rejudgeFrom: Instant,
    now: Instant,
    audit: NewAudit,
  ): Promise<StoredOnce<CalibrationVoid>>;
  /** Void ones too, newest first; of these streams, or of all. */
  readCalibrations(streams?: readonly number[]): Promise<readonly Calibration[]>;
  readCalibration(by: { id: string } | { clientId: string }): Promise<Calibration | null>;
  /** In force, oldest first. */
  readCorrections(streams: readonly number[]): Promise<readonly Correction[]>;
  signHandover(added: NewHandover, audit: NewAudit): Promise<StoredOnce<Handover>>;
  readHandovers(query: { before?: Instant; limit: number }): Promise<readonly Handover[]>;
  readHandover(by: { id: string } | { clientId: string }): Promise<Handover | null>;
  /** Newest first. */
  readAudit(query: {
    before?: number;
    actor?: string;
    verb?: string;
    limit: number;
  }): Promise<readonly AuditRow[]>;
  readAuditRow(seq: number): Promise<AuditRow | null>;
  /** Follows the chain from the first row to the head. */
  verifyAudit(): Promise<AuditCheck>;

  // ---------- homes of animals ----------

  /** Everything of it, in one consistent read. */
  readHabitat(): Promise<Habitat>;
  readBandBasis(bands: readonly string[]): Promise<readonly BandBasis[]>;
  /**
   * Inserts or replaces by id (of a profile its entries whole) in one commit with its log entries, the journal rows of what to judge again
   * and its audit row.
   */
  writeHabitat(
    change: HabitatChange,
    rejudge: readonly { readonly system: string; readonly from: Instant }[],
    now: Instant,
    audit: NewAudit,
  ): Promise<{ readonly received: Instant; readonly audit: number }>;

  // ---------- people ----------

  hasPeople(): Promise<boolean>;
  /** By user name; `sessions` counts those that have not run out at `now`. */
  readPeople(now: Instant): Promise<readonly PersonWithGrants[]>;
  readPerson(
    by: { id: string } | { userName: string } | { email: string },
    now: Instant,
  ): Promise<PersonWithGrants | null>;
  /** Inserts or replaces by id; gives the audit row's number. Rejects with "invalid" where the user name or e-mail is taken. */
  writePerson(change: PersonChange, now: Instant, audit: NewAudit): Promise<number>;
  readPasswordHash(person: string): Promise<string | null>;
  addToken(token: ApiToken, audit: NewAudit): Promise<void>;
  readTokens(): Promise<readonly ApiToken[]>;
  tokenByHash(hash: string): Promise<ApiToken | null>;
  /** False where there is none, or it is revoked already. */
  revokeToken(id: string, now: Instant, audit: NewAudit): Promise<boolean>;
  /** A number that changes whenever anybody's rights or sessions do. */
  peopleMark(): Promise<number>;
  /** Failed attempts to sign in by key, within a window from the first of them. */
  addAttempt(keys: readonly string[], now: Instant, windowMs: number, audit?: NewAudit): Promise<void>;
  readAttempts(
    keys: readonly string[],
    now: Instant,
    windowMs: number,
  ): Promise<readonly { readonly key: string; readonly count: number; readonly since: Instant }[]>;
  clearAttempts(keys: readonly string[]): Promise<void>;
  /** Rows of the session library. */
  readonly accounts: AccountRows;

  status(): Promise<StoreStatus>;
  /** A number that changes whenever any process has committed; cheap enough to ask ten times a second. */
  changeMark(): Promise<number>;
  close(): Promise<void>;
}

/** A store that could not do what was asked. `code` is for machines; the message names what, the value and the remedy. */
export class StoreError extends Error {
  readonly code: "unavailable" | "full" | "read-only" | "newer-schema" | "superseded" | "invalid";
  constructor(code: StoreError["code"], message: string, options?: { cause?: unknown }) {
    super(message, options);
    this.name = "StoreError";
    this.code = code;
  }
}

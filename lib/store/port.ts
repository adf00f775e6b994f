/**
 * What the rest of Homewater asks of a store. Two adapters keep it: SQLite (embedded, the default) and PostgreSQL.
 * One contract suite runs over both (tests/store/contract.ts). All instants are UTC milliseconds; every method rejects with
 * the driver's error as `cause` of a `StoreError` and never swallows one.
 */
import type { Acknowledgement } from "../core/alarms/acknowledgement.ts";
import type { Alarm, AlarmState, AlarmTransition } from "../core/alarms/alarm.ts";
import type { Finding, FindingKind, Severity } from "../core/alarms/finding.ts";
import type { AuditCheck, AuditRow, NewAudit } from "../core/audit/audit.ts";
import type { BackupRun } from "../core/backup/backup-run.ts";
import type {
  BenchOutcome,
  BenchResult,
  BenchVoid,
  NewBenchResult,
  NewBenchTest,
  StoredBenchTest,
} from "../core/bench/records.ts";
import type { Stretch, Tally } from "../core/fit/tally.ts";
import type { BandEdges, TargetBand } from "../core/habitat/band.ts";
import type { BreedingEvent, BreedingWatch } from "../core/habitat/breeding.ts";
import type { Compromise } from "../core/habitat/compromise.ts";
import type { PlanShape } from "../core/habitat/plan.ts";
import type { HomeWaterSeries, LightPlan, SeasonPlan } from "../core/habitat/plans.ts";
import type { Profile, Species } from "../core/habitat/profile.ts";
import type { Handover, NewHandover } from "../core/handover/handover.ts";
import type { ProcessReport } from "../core/health/process-report.ts";
import type { ImportProgress } from "../core/importing/progress.ts";
import type { ImportRun, NewImport } from "../core/importing/run.ts";
import type { LogEntry, LogVersion } from "../core/log/entry.ts";
import type { AccountRows, ApiToken, PersonChange, PersonWithGrants } from "../core/people/person.ts";
import type {
  Calibration,
  CalibrationVoid,
  Correction,
  NewCalibration,
  NewCorrection,
} from "../core/probes/calibration.ts";
import type { Flag, ReadingMark, Reason } from "../core/quality/flag.ts";
import type { RollupRow } from "../core/quality/rollup.ts";
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
} from "../core/set-up/set-up.ts";
import type { Instant } from "../core/time/instant.ts";

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

// ---------- accepting ----------

export interface NewReading {
  readonly stream: number;
  readonly at: Instant;
  readonly value: number;
  readonly source: number;
  readonly sequence: number | null;
  readonly mark: ReadingMark | null;
}
export interface Rejected {
  readonly topic: string;
  readonly reason: string;
  /** First bytes of the payload as received (bounded by the caller, at most 512). */
  readonly sample: Uint8Array;
  readonly bytes: number;
  readonly source: string;
}
export interface Unclaimed {
  readonly topic: string;
  readonly readings: readonly {
    readonly at: Instant;
    readonly value: number | string;
    readonly unit: string | null;
  }[];
  readonly source: number;
}
export interface AcceptBatch {
  /** The receiving clock; the store moves it forward so that `received` is unique and rising over all commits. */
  readonly now: Instant;
  readonly readings: readonly NewReading[];
  readonly rejected: readonly Rejected[];
  readonly unclaimed: readonly Unclaimed[];
  /**
   * Written in the same commit: how far an import has come. Rejects with "superseded", and nothing is stored, where it no longer stands at
   * the position it was read at.
   */
  readonly importing?: {
    readonly id: string;
    /** Bytes of the file done with before this batch. */
    readonly expected: number;
    readonly progress: (fates: readonly Fate[]) => ImportProgress;
  };
}
export type Fate = "stored" | "duplicate" | "conflict";
export interface AppendOutcome {
  /** Null where nothing new was stored (only duplicates, rejections): no journal row was written. */
  readonly seq: number | null;
  readonly received: Instant;
  /** One fate a reading, in the order given. */
  readonly fates: readonly Fate[];
}

/** Log entries whose version in force touches [from, to); ids of systems; what is left out is not asked for. */
export interface LogRange {
  readonly from?: Instant;
  readonly to?: Instant;
  readonly systems?: readonly string[];
  readonly kinds?: readonly string[];
  readonly open?: boolean;
  readonly alarms?: readonly string[];
  readonly limit: number;
}

// ---------- homes of animals ----------

/** What is known of animals' homes and agreed about them; every version, in the order recorded. */
export interface Habitat {
  readonly species: readonly Species[];
  readonly profiles: readonly Profile[];
  readonly compromises: readonly Compromise[];
  readonly watches: readonly BreedingWatch[];
  readonly breedingEvents: readonly BreedingEvent[];
  readonly homeWater: readonly HomeWaterSeries[];
  readonly seasonPlans: readonly SeasonPlan[];
  readonly lightPlans: readonly LightPlan[];
}
/** Who set which edge of a band, kept as JSON beside it. */
export interface BandBasisRow {
  readonly band: string;
  readonly basis: string;
}
export interface HabitatChange extends Partial<Habitat> {
  /** Bands, residents and plans that follow from it, by the same rules as writeSetUp. */
  readonly setUp?: Partial<SetUp>;
  readonly bandBasis?: readonly BandBasisRow[];
  /** Log entries written with it, stored once a client id. */
  readonly log?: readonly LogVersion[];
}

// ---------- the journal and evaluating ----------

export type JournalKind = "readings" | "bench" | "up" | "set-up" | "acknowledge" | "log" | "calibration";
export interface Spans {
  /** [stream, from, to]: its readings are those with `at` inside and `at + delay` = `received`. */
  readonly readings: readonly (readonly [stream: number, from: Instant, to: Instant])[];
  /** [stream, at]: moments whose flag must be judged again because a second value was sent for them. */
  readonly conflicts: readonly (readonly [stream: number, at: Instant])[];
}
export interface JournalEntry {
  readonly seq: number;
  readonly kind: JournalKind;
  /** What was written: a row's id (of a log entry its first version's), for set-up "system:<id>@<from instant>" and for a calibration "stream:<id>@<from instant>" naming what to judge again. */
  readonly ref: string | null;
  readonly spans: Spans | null;
  readonly received: Instant;
}
export interface StoredReading {
  readonly stream: number;
  readonly at: Instant;
  readonly value: number;
  readonly received: Instant;
  readonly source: number;
  readonly mark: ReadingMark | null;
}
export interface FlagRow {
  readonly stream: number;
  readonly at: Instant;
  readonly flag: Flag;
  readonly reasons: readonly Reason[];
}
export interface DerivedRow {
  readonly stream: number;
  readonly at: Instant;
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
  readonly formula: string;
}
/** The newest believed reading of a stream and its verdict: one row a stream, read by every page. */
export interface Current {
  readonly stream: number;
  readonly at: Instant;
  readonly value: number;
  readonly flag: Flag;
  readonly reasons: readonly Reason[];
  readonly low: number | null;
  readonly high: number | null;
  /** Signed deviation, null where no band applies or it is not proven. */
  readonly deviation: number | null;
  readonly band: BandEdges | null;
  /** Units an hour over the trailing two hours, null where not known. */
  readonly rate: number | null;
  readonly received: Instant;
  /** Expected at latest at this receive instant; null = not scheduled. */
  readonly silentAt: Instant | null;
}
export interface Checkpoint {
  readonly system: string;
  readonly at: Instant;
  /** Canonical JSON of the event-time state holding every reading before `at`. */
  readonly state: string;
}
export interface DirtyRange {
  readonly system: string;
  /** Judge again from here to now. */
  readonly from: Instant;
}
/** What one evaluation writes, in one transaction, under compare-and-set on cursor and lease. */
export interface EvaluationPatch {
  /** Event-time ranges whose flags, derived rows, rollups (start >= from, start < to) and findings (raised) are replaced whole. */
  readonly replace: readonly {
    readonly system: string;
    readonly streams: readonly number[];
    readonly from: Instant;
    readonly to: Instant;
  }[];
  readonly flags: readonly FlagRow[];
  readonly derived: readonly DerivedRow[];
  readonly rollups: readonly RollupRow[];
  /** Upserted by id; of `replace` ranges the ones not named here are marked superseded (silent findings excepted). */
  readonly findings: readonly Finding[];
  readonly alarms: readonly Alarm[];
  readonly transitions: readonly AlarmTransition[];
  readonly current: readonly Current[];
  readonly checkpoints: readonly Checkpoint[];
  /** Checkpoints of a system with from <= at < to are no longer right and are dropped, before those above are written. */
  readonly dropCheckpoints: readonly {
    readonly system: string;
    readonly from: Instant;
    readonly to: Instant;
  }[];
  /** Streams that hold nothing any more: they have no current value. */
  readonly noCurrent: readonly number[];
  readonly dirty: readonly DirtyRange[];
  readonly clean: readonly string[];
  /** The journal position this evaluation has reached. */
  readonly cursor: { readonly seq: number; readonly received: Instant };
}
export interface Lease {
  readonly epoch: number;
}

// ---------- reading for people ----------

export type Resolution = "raw" | "15min" | "3h" | "day";
export interface SeriesColumns {
  readonly resolution: Resolution;
  readonly at: number[];
  readonly min: (number | null)[];
  readonly mean: (number | null)[];
  readonly max: (number | null)[];
  readonly n: number[];
  readonly flag: number[];
  /** For raw: where the next page begins, null at the end. */
  readonly next: Instant | null;
}
export interface RejectedRow extends Rejected {
  readonly count: number;
  readonly firstSeen: Instant;
  readonly lastSeen: Instant;
}
export interface UnclaimedRow {
  readonly topic: string;
  readonly count: number;
  readonly firstSeen: Instant;
  readonly lastSeen: Instant;
}
export interface Counts {
  readonly readings: number;
  readonly duplicates: number;
  readonly conflicts: number;
  readonly rejected: number;
  readonly unclaimed: number;
}
export interface StoreStatus {
  readonly dialect: "sqlite" | "postgres";
  readonly schema: number;
  readonly journal: { readonly seq: number; readonly received: Instant } | null;
  readonly cursor: { readonly seq: number; readonly received: Instant } | null;
  readonly dirty: readonly DirtyRange[];
  readonly counts: Counts;
  /** Path or URL without credentials. */
  readonly where: string;
}

/** How readings of one stream came from one source within a span: delays are receipt − own time, ms. */
export interface ArrivalRow {
  readonly stream: number;
  readonly source: number;
  readonly start: Instant;
  readonly n: number;
  /** Those that carry a sequence number. */
  readonly numbered: number;
  readonly shortest: number;
  readonly longest: number;
  readonly first: Instant;
  readonly last: Instant;
}
export interface NumberedReading {
  readonly stream: number;
  readonly at: Instant;
  readonly sequence: number;
}

/** What a client id stands for now, and whether it did before. */
export interface Kept<T> {
  readonly stored: T;
  readonly repeated: boolean;
}

export interface Store {
  readonly dialect: "sqlite" | "postgres";

  /** Everything set up, in one consistent read. */
  readSetUp(): Promise<SetUp>;
  /** Insert or replace by id in one transaction; writes the journal rows of kind "set-up" named in `judgeAgain` in the same commit. */
  writeSetUp(
    change: Partial<SetUp>,
    judgeAgain: readonly { readonly system: string; readonly from: Instant }[],
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
  readDirty(): Promise<readonly DirtyRange[]>;
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
      readonly judgeAgain: readonly { readonly system: string; readonly from: Instant }[];
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

  noteBackup(run: BackupRun): Promise<void>;
  /** The last attempt and the last one that was verified; null where there was none. */
  readBackups(): Promise<{ readonly last: BackupRun | null; readonly good: BackupRun | null }>;
  /** After a backup was put in place: ends every session, which were those of then, and says so in the trail. How many were ended. */
  noteRestore(now: Instant, audit: NewAudit): Promise<number>;
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
  ): Promise<Kept<Acknowledgement>>;
  /** Acknowledgements of journal entries of kind "acknowledge", by receipt. */
  acknowledgementOf(entries: readonly JournalEntry[]): Promise<readonly Acknowledgement[]>;
  readAcknowledgement(clientId: string): Promise<Acknowledgement | null>;
  readAlarm(id: string): Promise<Alarm | null>;
  /** Rejects with "invalid" where there is no such result, or it is void already. */
  voidBench(added: Omit<BenchVoid, "received">, now: Instant, audit: NewAudit): Promise<Kept<BenchVoid>>;
  readBenchTest(by: { clientId: string } | { result: string }): Promise<StoredBenchTest | null>;
  /** The newest results in force of each of these streams, newest first. */
  lastBench(streams: readonly number[], limit: number): Promise<readonly BenchResult[]>;
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
   * One visit to a probe, with its correction where there is one and its mark in the logbook, in one commit; judged again from `judgeFrom`.
   */
  recordCalibration(
    added: NewCalibration,
    beside: {
      readonly correction: NewCorrection | null;
      readonly log: LogVersion;
      readonly judgeFrom: Instant;
    },
    now: Instant,
    audit: NewAudit,
  ): Promise<Kept<Calibration>>;
  /** Rejects with "invalid" where there is no such calibration, or it is void already. */
  voidCalibration(
    added: Omit<CalibrationVoid, "received">,
    judgeFrom: Instant,
    now: Instant,
    audit: NewAudit,
  ): Promise<Kept<CalibrationVoid>>;
  /** Void ones too, newest first; of these streams, or of all. */
  readCalibrations(streams?: readonly number[]): Promise<readonly Calibration[]>;
  readCalibration(by: { id: string } | { clientId: string }): Promise<Calibration | null>;
  /** In force, oldest first. */
  readCorrections(streams: readonly number[]): Promise<readonly Correction[]>;
  signHandover(added: NewHandover, audit: NewAudit): Promise<Kept<Handover>>;
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
  readBandBasis(bands: readonly string[]): Promise<readonly BandBasisRow[]>;
  /**
   * Inserts or replaces by id (of a profile its entries whole) in one commit with its log entries, the journal rows of what to judge again
   * and its audit row.
   */
  writeHabitat(
    change: HabitatChange,
    judgeAgain: readonly { readonly system: string; readonly from: Instant }[],
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

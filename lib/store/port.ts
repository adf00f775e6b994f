/**
 * What the rest of Homewater asks of a store. Two adapters keep it: SQLite (embedded, the default) and PostgreSQL.
 * One contract suite runs over both (tests/store/contract.ts). All instants are UTC milliseconds; every method rejects with
 * the driver's error as `cause` of a `StoreError` and never swallows one.
 */
import type { Alarm, AlarmState, AlarmTransition } from "../core/alarms/alarm.ts";
import type { Finding, FindingKind, Severity } from "../core/alarms/finding.ts";
import type { BandEdges, TargetBand } from "../core/habitat/band.ts";
import type { PlanShape } from "../core/habitat/plan.ts";
import type { Flag, ReadingMark, Reason } from "../core/quality/flag.ts";
import type { RollupRow } from "../core/quality/rollup.ts";
import type { Instant } from "../core/time/instant.ts";

export type {
  Alarm,
  AlarmState,
  AlarmTransition,
  BandEdges,
  Finding,
  FindingKind,
  PlanShape,
  RollupRow,
  Severity,
  TargetBand,
};

// ---------- what is set up ----------

export type Origin = "probe" | "bench" | "equipment" | "derived";
export type WaterType = "fresh" | "brackish" | "marine";
export type SourceKind = "gateway" | "history" | "import" | "token" | "bench";

export interface Site {
  readonly id: string;
  readonly code: string;
  readonly name: string;
  /** IANA zone. */
  readonly zone: string;
  /** Degrees north, degrees east, metres above sea level. */
  readonly latitude: number;
  readonly longitude: number;
  readonly elevation: number;
}
export interface System {
  readonly id: string;
  readonly site: string;
  /** Short name, unique across sites; used in topics and URLs. */
  readonly code: string;
  readonly name: string;
  /** Plain words, e.g. "temperate marine". */
  readonly kind: string;
  readonly water: WaterType;
  /** Cubic metres. */
  readonly volume: number;
  /** Duty flow in m3/h, null where not known. */
  readonly duty: number | null;
  readonly opened: Instant;
  readonly closed: Instant | null;
  /** TAN results are carried 24 h instead of 7 days (quarantine, young filter). */
  readonly youngFilter: boolean;
}
export interface Point {
  readonly id: string;
  readonly system: string;
  readonly code: string;
  readonly twinOf: string | null;
}
export interface Stream {
  readonly id: number;
  readonly system: string;
  readonly point: string;
  readonly pointCode: string;
  readonly quantity: string;
  readonly origin: Origin;
  /** Expected milliseconds between readings; null = not scheduled, never silent. */
  readonly interval: number | null;
  readonly critical: boolean;
}
export interface Source {
  readonly id: number;
  readonly code: string;
  readonly kind: SourceKind;
}
export interface Loop {
  readonly id: string;
  readonly site: string;
  readonly code: string;
  readonly name: string;
  readonly members: readonly string[];
}

/** A signed course that a quantity is meant to follow; rates and bands are judged against it. */
export interface Plan {
  readonly id: string;
  readonly system: string;
  readonly quantity: string;
  readonly shape: PlanShape;
  readonly validFrom: Instant;
  readonly validTo: Instant | null;
  readonly setBy: string;
  readonly reason: string;
}
export interface Resident {
  readonly id: string;
  readonly system: string;
  readonly species: string;
  readonly speciesName: string;
  readonly name: string | null;
  readonly stage: string;
  readonly count: number;
  readonly from: Instant;
  readonly to: Instant | null;
}
/** Everything that is set up, as the evaluator and the pages read it. */
export interface SetUp {
  readonly sites: readonly Site[];
  readonly loops: readonly Loop[];
  readonly systems: readonly System[];
  readonly points: readonly Point[];
  readonly streams: readonly Stream[];
  readonly sources: readonly Source[];
  readonly bands: readonly TargetBand[];
  readonly plans: readonly Plan[];
  readonly residents: readonly Resident[];
}

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
}
export type Fate = "stored" | "duplicate" | "conflict";
export interface AppendOutcome {
  /** Null where nothing new was stored (only duplicates, rejections): no journal row was written. */
  readonly seq: number | null;
  readonly received: Instant;
  /** One fate a reading, in the order given. */
  readonly fates: readonly Fate[];
}

export interface NewBenchResult {
  readonly id: string;
  readonly stream: number;
  readonly quantity: string;
  /** As typed, e.g. "8.10" (significant figures kept). */
  readonly typed: string;
  readonly qualifier: "=" | "<" | ">";
  readonly unitTyped: string;
  /** In the registry's unit. */
  readonly value: number;
  readonly method: string | null;
  readonly replicate: number;
  /** The result this one corrects, with the reason; null for a first entry. */
  readonly supersedes: string | null;
  readonly reason: string | null;
}
export interface NewBenchTest {
  readonly id: string;
  readonly clientId: string;
  readonly system: string;
  readonly point: string;
  readonly sampledAt: Instant;
  readonly enteredAt: Instant;
  readonly analyst: string;
  readonly note: string | null;
  readonly results: readonly NewBenchResult[];
}
export interface BenchOutcome {
  readonly id: string;
  readonly received: Instant;
  /** True where a test with this client id was already stored: nothing was written again. */
  readonly repeated: boolean;
}
/** A result in force (not superseded), as charts and the evaluator read it. */
export interface BenchResult extends NewBenchResult {
  readonly test: string;
  readonly at: Instant;
  readonly received: Instant;
  readonly analyst: string;
}

// ---------- the journal and evaluating ----------

export type JournalKind = "readings" | "bench" | "up" | "set-up" | "acknowledge";
export interface Spans {
  /** [stream, from, to]: its readings are those with `at` inside and `at + delay` = `received`. */
  readonly readings: readonly (readonly [stream: number, from: Instant, to: Instant])[];
  /** [stream, at]: moments whose flag must be judged again because a second value was sent for them. */
  readonly conflicts: readonly (readonly [stream: number, at: Instant])[];
}
export interface JournalEntry {
  readonly seq: number;
  readonly kind: JournalKind;
  /** What was written: a row's id, or for set-up "system:<id>@<from instant>" naming what to judge again. */
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
  /** Checkpoints of a system after this instant are no longer right and are dropped. */
  readonly dropCheckpointsAfter: readonly { readonly system: string; readonly at: Instant }[];
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

export interface Store {
  readonly dialect: "sqlite" | "postgres";

  /** Everything set up, in one consistent read. */
  readSetUp(): Promise<SetUp>;
  /** Insert or replace by id in one transaction; writes the journal rows of kind "set-up" named in `judgeAgain` in the same commit. */
  writeSetUp(
    change: Partial<SetUp>,
    judgeAgain: readonly { readonly system: string; readonly from: Instant }[],
    now: Instant,
  ): Promise<void>;
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
  /** Store one bench test in one durable commit, idempotent by client id. */
  recordBench(test: NewBenchTest, now: Instant): Promise<BenchOutcome>;
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
  readDerived(stream: number, from: Instant, to: Instant, limit: number): Promise<readonly DerivedRow[]>;
  readFlags(stream: number, from: Instant, to: Instant, limit: number): Promise<readonly FlagRow[]>;
  readRejected(limit: number): Promise<readonly RejectedRow[]>;
  readUnclaimed(limit: number): Promise<readonly UnclaimedRow[]>;
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

/** What goes into a store and comes out of it, one shape a subject; core types that are stored as they are stand where they are made. */
import type { Alarm, AlarmTransition } from "#core/alarms/alarm.ts";
import type { Finding } from "#core/alarms/finding.ts";
import type { ClockAhead } from "#core/gateway/clock-ahead.ts";
import type { BandEdges } from "#core/habitat/band.ts";
import type { BreedingEvent, BreedingWatch } from "#core/habitat/breeding.ts";
import type { Compromise } from "#core/habitat/compromise.ts";
import type { HomeWaterSeries, LightPlan, SeasonPlan } from "#core/habitat/plans.ts";
import type { Profile, Species } from "#core/habitat/profile.ts";
import type { ImportProgress } from "#core/importing/progress.ts";
import type { LogVersion } from "#core/logbook/entry.ts";
import type { Flag, ReadingMark, Reason } from "#core/quality/flag.ts";
import type { RollupRow } from "#core/quality/rollup.ts";
import type { BandBasis } from "#core/set-up/follow-residents.ts";
import type { SetUp } from "#core/set-up/set-up.ts";
import type { Instant } from "#core/time/instant.ts";

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
export interface HabitatChange extends Partial<Habitat> {
  /** Bands, residents and plans that follow from it, by the same rules as writeSetUp. */
  readonly setUp?: Partial<SetUp>;
  readonly bandBasis?: readonly BandBasis[];
  /** Log entries written with it, stored once a client id. */
  readonly log?: readonly LogVersion[];
}

// ---------- the journal and evaluating ----------

export type JournalKind =
  | "readings"
  | "bench"
  | "up"
  | "set-up"
  | "acknowledge"
  | "log"
  | "calibration"
  | "clock";
export interface Spans {
  /** [stream, from, to]: its readings are those with `at` inside and `at + delay` = `received`. */
  readonly readings: readonly (readonly [stream: number, from: Instant, to: Instant])[];
  /** [stream, at]: moments whose flag must be judged again because a second value was sent for them. */
  readonly conflicts: readonly (readonly [stream: number, at: Instant])[];
}
/** A system, or what one of its streams says, is judged again from this instant on. */
export type RejudgeFrom =
  | { readonly system: string; readonly from: Instant }
  | { readonly stream: number; readonly from: Instant };
export interface JournalEntry {
  readonly seq: number;
  readonly kind: JournalKind;
  /** The id of the row that was written, of a log entry its first version's; null where none stands for it. */
  readonly ref: string | null;
  /** What a change of set-up or a calibration has judged again; null where nothing is. */
  readonly rejudge: RejudgeFrom | null;
  readonly spans: Spans | null;
  readonly received: Instant;
}
/** Who took back a placement. */
export interface NewPlacementVoid {
  readonly id: string;
  readonly clientId: string;
  readonly placement: string;
  readonly by: string;
  readonly byId: string;
  readonly reason: string;
  readonly at: Instant;
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
export interface RejudgeRange {
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
  /** Upserted by id; of `replace` ranges the ones not named here are marked superseded (those of the receiving clock excepted: silent, overrun). */
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
  readonly streamsWithoutCurrent: readonly number[];
  readonly rejudge: readonly RejudgeRange[];
  readonly rejudged: readonly string[];
  /** What has become known of senders' clocks; upserted by id. */
  readonly clocks?: readonly ClockAhead[];
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
  readonly rejudging: readonly RejudgeRange[];
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
export interface StoredOnce<T> {
  readonly stored: T;
  readonly repeated: boolean;
}

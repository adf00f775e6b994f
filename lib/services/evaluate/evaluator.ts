/**
 * The evaluator: reads the journal behind its cursor, judges what is new, and commits the verdicts in one transaction with the cursor.
 * It computes outside transactions; a commit that finds the cursor or the lease moved is thrown away (StoreError "superseded").
 */

import { traitsOf } from "#core/alarms/kinds.ts";
import { isLate, isTimeDoubtful } from "#core/evaluate/fold.ts";
import type { Input } from "#core/evaluate/outputs.ts";
import {
  acceptingStarted,
  acknowledge,
  emptyEffects,
  emptyReceiveState,
  fireTimers,
  noteArrival,
  type ReceiveEffects,
  updateAlarms,
} from "#core/evaluate/receive-state.ts";
import { type Instant, SECOND } from "#core/time/instant.ts";
import type { JournalEntry, Lease, Store, StoredReading } from "#store/port.ts";
import { noteSecondValues, SenderClocks, secondValues } from "./follow-clocks.ts";
import { inputOfReading, inputsBetween, sortInputs } from "./inputs.ts";
import {
  addEffects,
  addOutputs,
  emptyPatch,
  finishPatch,
  type PatchBuilder,
  withoutRejudged,
} from "./patch.ts";
import {
  extendRejudgement,
  type Rejudgement,
  rejudgedRange,
  rejudgeSlice,
  rewindRejudgement,
  startRejudgement,
} from "./rejudge.ts";
import {
  markRejudge,
  markRejudgeOfCalibration,
  markRejudgeOfSetUp,
  type RejudgeMarks,
  withDerived,
} from "./rejudge-marks.ts";
import { type CompiledSetUp, compileSetUp } from "./settings-of.ts";
import {
  applyNewSettings,
  readMuteWindows,
  restoreEvaluation,
  type SystemEvaluation,
} from "./system-evaluation.ts";
import { createWalker, currentOf, restoreSnapshotBefore, takeOutputs, type Walker, walk } from "./walker.ts";

export const LEASE_NAME = "evaluator";
const LEASE_MS = 15 * SECOND;
const ENTRIES_AT_ONCE = 500;
/** Rows a commit may hold before the pass ends early: keeps the writer's lock short. */
const ROWS_AT_ONCE = 6_000;
/** Late data are judged again once nothing more has come for this long, or at the latest after the longest wait. */
const REJUDGE_AFTER_QUIET = 2 * SECOND;
const REJUDGE_AT_LATEST = 30 * SECOND;

interface QueuedRejudgement {
  readonly rejudgement: Rejudgement;
  firstMarked: number;
  lastMarked: number;
}

export interface EvaluatorDeps {
  readonly store: Store;
  /** Names this process in the lease. */
  readonly leaseHolder: string;
  /** The receiving clock, for timers between journal entries. */
  readonly clock: () => Instant;
  /** Milliseconds that only rise, for waiting. */
  readonly monotonic: () => number;
}
export interface PassReport {
  readonly entries: number;
  readonly readings: number;
  readonly rejudged: number;
  /** Nothing is waiting: neither entries nor late data. */
  readonly isIdle: boolean;
}
export interface Evaluator {
  /** Judge what the journal holds behind the cursor, at most one commit's worth, then one slice of late data. */
  pass(options?: { readonly ticking?: boolean; readonly hurry?: boolean }): Promise<PassReport>;
  release(): Promise<void>;
}

/** Acquire the lease and restore the state as of the cursor; null while another evaluator holds the lease. */
export async function openEvaluator(deps: EvaluatorDeps): Promise<Evaluator | null> {
  const { store } = deps;
  const lease = await store.acquireLease(LEASE_NAME, deps.leaseHolder, deps.clock(), LEASE_MS);
  if (!lease) return null;
  const clocks = await SenderClocks.open(store);
  const engine = new Engine(deps, lease, await compileSetUp(store), await store.readCursor(), clocks);
  await engine.restore();
  return engine;
}

class Engine implements Evaluator {
  private readonly runs = new Map<string, SystemEvaluation>();
  private readonly rejudgements = new Map<string, QueuedRejudgement>();
  private renewAt: number;
  /** The journal position of the last commit: what the next one compares with. */
  private committedSeq: number;
  private entriesAtOnce = 64;
  /** A fresh reading came out of order in this pass. */
  private hasReadingOutOfOrder = false;

  constructor(
    private readonly deps: EvaluatorDeps,
    private lease: Lease,
    private setUp: CompiledSetUp,
    private cursor: { seq: number; received: Instant },
    private readonly clocks: SenderClocks,
  ) {
    this.committedSeq = cursor.seq;
    this.renewAt = deps.monotonic() + LEASE_MS / 3;
  }

  async restore(): Promise<void> {
    const { store } = this.deps;
    for (const [id, settings] of this.setUp.systems)
      this.runs.set(id, await restoreEvaluation(store, settings, this.setUp, this.cursor.received));
    await readMuteWindows(store, this.runs, this.cursor.received, null);
    for (const range of await store.readRejudgeRanges())
      this.queueRejudgement(range.system, range.from, this.cursor.received);
  }

  async pass(options: { readonly ticking?: boolean; readonly hurry?: boolean } = {}): Promise<PassReport> {
    await this.keepLease();
    const entries = await this.deps.store.journalAfter(this.cursor.seq, this.entriesAtOnce);
    let readings = 0;
    if (entries.length > 0) readings = await this.judge(entries);
    else if (options.ticking) await this.commitTimers();
    const judgedAgain = await this.rejudgeNext(options.hurry === true);
    return {
      entries: entries.length,
      readings,
      rejudged: judgedAgain,
      isIdle: entries.length === 0 && this.rejudgements.size === 0,
    };
  }

  private async keepLease(): Promise<void> {
    const { deps } = this;
    if (deps.monotonic() < this.renewAt) return;
    const lease = await deps.store.acquireLease(LEASE_NAME, deps.leaseHolder, deps.clock(), LEASE_MS);
    if (lease) this.lease = lease;
    this.renewAt = deps.monotonic() + LEASE_MS / 3;
  }

  private async judge(entries: readonly JournalEntry[]): Promise<number> {
    const patch = emptyPatch();
    const touched = new Set<string>();
    const restarted = new Set<string>();
    const marks: RejudgeMarks = new Map();
    const effects = emptyEffects();
    const readings = await this.deps.store.readingsOf(entries.filter((entry) => entry.kind === "readings"));
    // Whether a reading is recorded depends on its source, and a sender may be new.
    if (readings.some((reading) => !this.setUp.sources.has(reading.source))) await this.recompileSettings();
    let next = 0;
    let taken = 0;
    this.hasReadingOutOfOrder = false;
    for (const entry of entries) {
      await this.applyEntry(entry);
      // Before time passes: whatever fell due since the last entry did so while nobody was listening.
      if (entry.kind === "up") this.restart(entry.received, restarted);
      // What people write while nothing is accepted is no sign that the probes were heard.
      if (entry.kind === "up" || entry.kind === "readings")
        this.advanceReceiveTime(entry.received, effects, touched);
      if (entry.kind === "readings") {
        const start = next;
        while (next < readings.length && readings[next]?.received === entry.received) next++;
        const own = readings.slice(start, next);
        await this.followClocks(entry, own, patch, marks, effects);
        const batch = own.map((reading) => inputOfReading(reading, this.setUp));
        this.foldInputs(batch, entry, marks, touched, effects);
      }
      if (entry.kind === "bench") await this.markRejudgeOfBench(entry, marks);
      if (entry.kind === "acknowledge") await this.acknowledge(entry, effects);
      if (entry.kind === "log") await readMuteWindows(this.deps.store, this.runs, entry.received, entry.ref);
      if (entry.kind === "set-up") markRejudgeOfSetUp(entry, marks);
      if (entry.kind === "calibration" || entry.kind === "clock")
        markRejudgeOfCalibration(entry, this.setUp.systemOf, marks);
      this.cursor = { seq: entry.seq, received: entry.received };
      taken++;
      // What follows must find a fresh reading folded in, or an alarm that it calls for would come late or never.
      if (next >= ROWS_AT_ONCE || this.hasReadingOutOfOrder) break;
    }
    this.entriesAtOnce = Math.max(
      1,
      Math.min(ENTRIES_AT_ONCE, Math.ceil((ROWS_AT_ONCE * taken) / Math.max(next, 1))),
    );
    if (this.hasReadingOutOfOrder) this.entriesAtOnce = Math.min(this.entriesAtOnce, 4 * taken);
    await this.rejudgeOutOfOrder(marks, patch, effects, touched);
    this.collectOutputs(touched, restarted, patch, effects);
    await this.commit(patch);
    return next;
  }

  private async acknowledge(entry: JournalEntry, effects: ReceiveEffects): Promise<void> {
    for (const given of await this.deps.store.acknowledgementOf([entry]))
      for (const run of this.runs.values()) acknowledge(run.receiving, given, effects);
  }

  private restart(at: Instant, restarted: Set<string>): void {
    for (const [id, run] of this.runs) {
      acceptingStarted(run.receiving, run.settings, at);
      restarted.add(id);
    }
  }

  /** Set-up that an entry refers to and we do not know yet. */
  private async applyEntry(entry: JournalEntry): Promise<void> {
    const unknown = entry.spans?.readings.some(([stream]) => !this.setUp.systemOf.has(stream)) ?? false;
    if (unknown || entry.kind === "set-up" || entry.kind === "calibration") await this.recompileSettings();
    if (entry.kind !== "clock") return;
    await this.clocks.reread(this.deps.store);
    await this.recompileSettings();
  }

  /** Before these readings are folded: a clock that runs ahead is told by the newest of them, and holds them all. */
  private async followClocks(
    entry: JournalEntry,
    readings: readonly StoredReading[],
    patch: PatchBuilder,
    marks: RejudgeMarks,
    effects: ReceiveEffects,
  ): Promise<void> {
    const second = await secondValues(this.deps.store, this.setUp, entry);
    const all = second.length > 0 ? [...readings, ...second] : readings;
    if (this.clocks.follow(all, entry.received, this.setUp, patch, marks))
      this.setUp = { ...this.setUp, clocks: this.clocks.book() };
    noteSecondValues(second, this.setUp, this.runs, effects);
  }

  private async recompileSettings(): Promise<void> {
    // What was found in this pass is not stored yet.
    this.setUp = { ...(await compileSetUp(this.deps.store)), clocks: this.clocks.book() };
    for (const [id, settings] of this.setUp.systems) {
      const run = this.runs.get(id);
      if (!run) {
        this.runs.set(id, { settings, walker: createWalker(settings), receiving: emptyReceiveState() });
        continue;
      }
      applyNewSettings(run, settings);
      // Judging again goes on with what is set up now.
      const queued = this.rejudgements.get(id);
      if (queued?.rejudgement.walker) rewindRejudgement(queued.rejudgement, queued.rejudgement.position);
    }
  }

  private advanceReceiveTime(now: Instant, effects: ReceiveEffects, touched: Set<string>): void {
    for (const [id, run] of this.runs) {
      const before = effects.findings.size;
      fireTimers(run.receiving, run.settings, run.walker.water, now, effects);
      if (effects.findings.size !== before) touched.add(id);
    }
  }

  private foldInputs(
    batch: Input[],
    entry: JournalEntry,
    marks: RejudgeMarks,
    touched: Set<string>,
    effects: ReceiveEffects,
  ): void {
    const bySystem = new Map<string, Input[]>();
    for (const input of batch) {
      const system = this.setUp.systemOf.get(input.stream);
      if (system === undefined) continue;
      const list = bySystem.get(system);
      if (list) list.push(input);
      else bySystem.set(system, [input]);
    }
    for (const [stream, at] of entry.spans?.conflicts ?? []) {
      const system = this.setUp.systemOf.get(stream);
      if (system !== undefined) markRejudge(marks, system, at, stream);
    }
    for (const [system, inputs] of bySystem) {
      const run = this.runs.get(system);
      if (!run) continue;
      touched.add(system);
      for (const input of sortInputs(inputs, run.settings.byId))
        this.foldInput(run, input, entry.received, marks, effects);
    }
  }

  private foldInput(
    run: SystemEvaluation,
    input: Input,
    received: Instant,
    marks: RejudgeMarks,
    effects: ReceiveEffects,
  ): void {
    const { settings, walker, receiving } = run;
    const stream = settings.byId.get(input.stream);
    if (!stream) return;
    // A time that cannot be believed tells nothing about now: what is measured now is still not known.
    if (isTimeDoubtful(input)) receiving.held.add(stream.id);
    else if (!input.recorded) noteArrival(receiving, settings, stream, received, effects);
    const { recent } = walker.out;
    const before = recent.length;
    if (!walk(walker, input, true)) {
      markRejudge(marks, settings.system.id, input.at, stream.id);
      if (!isLate(input, stream)) this.hasReadingOutOfOrder = true;
    }
    // In order here, but behind late work that has run ahead of it: that comes back to it.
    const queued = this.rejudgements.get(settings.system.id);
    if (queued && input.at < queued.rejudgement.position)
      extendRejudgement(queued.rejudgement, input.at, received);
    for (let i = before; i < recent.length; i++) {
      const each = settings.byId.get(recent[i] as number);
      if (each) updateAlarms(receiving, settings, each, walker.water, received, effects);
    }
  }

  private async markRejudgeOfBench(entry: JournalEntry, marks: RejudgeMarks): Promise<void> {
    const results = await this.deps.store.benchOf([entry]);
    if (results.some((result) => !this.setUp.systemOf.has(result.stream))) await this.recompileSettings();
    for (const result of results) {
      const system = this.setUp.systemOf.get(result.stream);
      if (system === undefined)
        throw new Error(`bench result ${result.id} belongs to a stream that does not exist`);
      markRejudge(marks, system, result.at, result.stream);
      // What is carried from the result (un-ionised ammonia at every pH since) stands on other streams.
      for (const stream of this.setUp.systems.get(system)?.streams ?? [])
        markRejudge(marks, system, result.at, stream.id);
    }
  }

  /** What arrived out of order, but not by more than the kept snapshots: judge again at once. The rest is late data. */
  private async rejudgeOutOfOrder(
    marks: RejudgeMarks,
    patch: PatchBuilder,
    effects: ReceiveEffects,
    touched: Set<string>,
  ): Promise<void> {
    const { received } = this.cursor;
    for (const [system, { from, streams }] of marks) {
      const run = this.runs.get(system);
      if (!run) continue;
      const { settings, walker } = run;
      const start = restoreSnapshotBefore(walker, from);
      if (start === undefined) {
        this.queueRejudgement(system, from, received);
        patch.rejudge.set(system, this.rejudgements.get(system)?.rejudgement.from ?? from);
        continue;
      }
      // Where the late work has passed this moment it has to come back to it: its state will be the live one.
      const queued = this.rejudgements.get(system);
      if (queued) {
        // From the snapshot on everything is written again, by a state that does not know the late data.
        extendRejudgement(queued.rejudgement, start, received);
        patch.rejudge.set(system, queued.rejudgement.from);
      }
      touched.add(system);
      const inputs = await inputsBetween(
        this.deps.store,
        settings,
        this.setUp,
        start,
        Number.MAX_SAFE_INTEGER,
        received,
      );
      for (const input of inputs) walk(walker, input, true);
      const ids = settings.streams.map((stream) => stream.id);
      patch.replace.push({ system, streams: ids, from: start, to: Number.MAX_SAFE_INTEGER });
      patch.dropCheckpoints.push({ system, from: start + 1, to: Number.MAX_SAFE_INTEGER });
      for (const id of ids) walker.out.touched.add(id);
      for (const id of withDerived(settings, streams)) {
        const stream = settings.byId.get(id);
        if (stream) updateAlarms(run.receiving, settings, stream, walker.water, received, effects);
      }
    }
  }

  private collectOutputs(
    touched: ReadonlySet<string>,
    restarted: ReadonlySet<string>,
    patch: PatchBuilder,
    effects: ReceiveEffects,
  ): void {
    const silent = [...effects.findings.values()].filter((finding) => traitsOf(finding).isNotKnown);
    for (const system of new Set([...touched, ...restarted])) {
      const run = this.runs.get(system);
      if (!run) continue;
      const { out, checkpoints } = this.takeLiveOutputs(run);
      addOutputs(patch, out, checkpoints);
      const all = restarted.has(system) ? run.settings.streams.map((stream) => stream.id) : [];
      for (const id of new Set([...out.touched, ...silent.map((finding) => finding.stream), ...all])) {
        const stream = run.settings.byId.get(id);
        const row = stream && currentOf(run.walker, run.receiving, stream, this.cursor.received);
        if (row) patch.current.set(id, row);
        else if (stream) patch.streamsWithoutCurrent.add(id);
      }
    }
    addEffects(patch, effects);
  }

  /** What the live state has produced, less what late work has judged again already. */
  private takeLiveOutputs({ walker, settings }: SystemEvaluation): ReturnType<typeof takeOutputs> {
    const taken = takeOutputs(walker);
    const queued = this.rejudgements.get(settings.system.id);
    if (!queued) return taken;
    const done = {
      ...rejudgedRange(queued.rejudgement),
      dayEnd: (start: Instant) => walker.context.dayOf(start).end,
    };
    return { ...taken, ...withoutRejudged(taken.out, taken.checkpoints, done) };
  }

  /** No entry, but time has passed: silence falls due. */
  private async commitTimers(): Promise<void> {
    const patch = emptyPatch();
    const touched = new Set<string>();
    const effects = emptyEffects();
    this.advanceReceiveTime(this.deps.clock(), effects, touched);
    if (effects.findings.size === 0 && effects.alarms.size === 0) return;
    this.collectOutputs(touched, new Set(), patch, effects);
    await this.commit(patch);
  }

  private queueRejudgement(system: string, from: Instant, lastLateAt: Instant): void {
    const now = this.deps.monotonic();
    const queued = this.rejudgements.get(system);
    if (!queued) {
      this.rejudgements.set(system, {
        rejudgement: startRejudgement(system, from, lastLateAt),
        firstMarked: now,
        lastMarked: now,
      });
      return;
    }
    extendRejudgement(queued.rejudgement, from, lastLateAt);
    queued.lastMarked = now;
  }

  /** One slice of the late data that has waited long enough. */
  private async rejudgeNext(hurry: boolean): Promise<number> {
    const now = this.deps.monotonic();
    const ready = [...this.rejudgements].find(
      ([, queued]) =>
        hurry ||
        queued.rejudgement.walker ||
        now - queued.lastMarked >= REJUDGE_AFTER_QUIET ||
        now - queued.firstMarked >= REJUDGE_AT_LATEST,
    );
    if (!ready) return 0;
    const [system, { rejudgement }] = ready;
    const run = this.runs.get(system);
    if (!run) throw new Error(`late data for a system that is not set up: ${system}`);
    const density = run.settings.streams.reduce((sum, s) => sum + (s.interval ? 1 / s.interval : 0), 0);
    // Bench results may be newer than any reading, and a system may have nothing else: all that is known by now is judged.
    const frontier = Math.max(run.walker.water.frontier.at, this.cursor.received);
    const slice = await rejudgeSlice(
      this.deps.store,
      run.settings,
      this.setUp,
      rejudgement,
      frontier,
      this.cursor.received,
      density,
    );
    if (slice.done) {
      this.rejudgements.delete(system);
      slice.patch.rejudged.add(system);
      if (slice.caughtUp) this.adoptCaughtUpState(run, slice.caughtUp, slice.patch);
    } else slice.patch.rejudge.set(system, rejudgement.position);
    await this.commit(slice.patch);
    return slice.readings;
  }

  /** The state that was judged again has reached the frontier: it is the live one now. */
  private adoptCaughtUpState(run: SystemEvaluation, walker: Walker, patch: PatchBuilder): void {
    const effects = emptyEffects();
    run.walker = walker;
    for (const stream of run.settings.streams) {
      const row = currentOf(walker, run.receiving, stream, this.cursor.received);
      if (row) patch.current.set(stream.id, row);
      else patch.streamsWithoutCurrent.add(stream.id);
      updateAlarms(run.receiving, run.settings, stream, walker.water, this.cursor.received, effects);
    }
    addEffects(patch, effects);
  }

  private async commit(patch: PatchBuilder): Promise<void> {
    const expected = { seq: this.committedSeq, lease: this.lease, leaseName: LEASE_NAME };
    await this.deps.store.commitEvaluation(finishPatch(patch, this.cursor), expected);
    this.committedSeq = this.cursor.seq;
  }

  async release(): Promise<void> {
    await this.deps.store.releaseLease(LEASE_NAME, this.lease);
  }
}

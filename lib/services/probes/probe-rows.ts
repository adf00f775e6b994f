/** Probes as the Probes page and one probe's page tell of them. */

import type { ProbeRow } from "#contract/probes.ts";
import { traitsOf } from "#core/alarms/kinds.ts";
import { inForce, type LogEntry } from "#core/logbook/entry.ts";
import { checkRule } from "#core/probes/bench-check.ts";
import type { Calibration } from "#core/probes/calibration.ts";
import { calibratedEvery, dueAt, lastSetRight, newest } from "#core/probes/due.ts";
import { HEALTH_WORDS, healthOf } from "#core/probes/health.ts";
import { type TwinDay, type TwinVerdict, twinVerdict } from "#core/probes/twin.ts";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import { median } from "#core/statistics/robust.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import { quantity } from "#core/units/index.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Current, Finding, Store, Stream } from "#store/port.ts";
import type { IndexedSetUp, SystemSetUp } from "../set-up.ts";
import { kindLabelOf } from "./calibration-view.ts";

export const isProbe = (stream: Stream): boolean =>
  stream.origin === "probe" && quantity(stream.quantity)?.kind === "number";

/** The probe that measures the same at a point set up as its twin; either way round. */
export function twinOf(at: SystemSetUp, stream: Stream): Stream | undefined {
  const point = at.points.find((row) => row.id === stream.point);
  return at.streams.find((other) => {
    if (other.id === stream.id || !isProbe(other) || other.quantity !== stream.quantity) return false;
    const otherPoint = at.points.find((row) => row.id === other.point);
    return (
      (point?.twinOf !== null && point?.twinOf === other.point) ||
      (otherPoint?.twinOf !== null && otherPoint?.twinOf === stream.point)
    );
  });
}

const TWIN_DAYS = 60;

/** Daily medians of one probe minus its twin, from the last calibration of either on, at most sixty days. */
export async function twinDaysOf(
  store: Store,
  stream: Stream,
  twin: Stream,
  calibrations: readonly Calibration[],
  now: Instant,
): Promise<TwinDay[]> {
  const set = calibrations.filter((row) => row.stream === stream.id || row.stream === twin.id);
  const from = Math.max(now - TWIN_DAYS * DAY, lastSetRight(set)?.at ?? 0);
  const rows = await store.readRollups({ streams: [stream.id, twin.id], from, to: now, width: QUARTER_HOUR });
  const other = new Map<number, number>();
  for (const row of rows)
    if (row.stream === twin.id && row.good > 0) other.set(row.start, row.sum / row.good);
  const days = new Map<number, number[]>();
  for (const row of rows) {
    const there = other.get(row.start);
    if (row.stream !== stream.id || row.good === 0 || there === undefined) continue;
    const day = row.start - (row.start % DAY);
    const list = days.get(day);
    if (list) list.push(row.sum / row.good - there);
    else days.set(day, [row.sum / row.good - there]);
  }
  return [...days].sort(([a], [b]) => a - b).map(([at, list]) => ({ at, difference: median(list) }));
}

/** What the twin's chart says; null where there is no chart yet. */
export function twinVerdictOf(days: readonly TwinDay[], quantityId: string): TwinVerdict | null {
  const rule = checkRule(quantityId);
  const usual = Math.abs(median(days.map((day) => day.difference)));
  const matters = rule === null ? 0 : rule.isPercent ? (rule.matters / 100) * usual : rule.matters;
  return matters > 0 ? twinVerdict(days, matters / 2) : null;
}

const CHECK_KINDS = ["calibration", "probe-clean", "probe-swap"] as const;
export const PROBE_LOG_KINDS: readonly string[] = CHECK_KINDS;

/** Whether somebody has it out of the water now: an open log entry that names it, or a visit that is not over. */
function isChecked(
  stream: Stream,
  calibrations: readonly Calibration[],
  log: readonly LogEntry[],
  now: Instant,
): boolean {
  const last = newest(calibrations);
  if (last && last.from <= now && now < last.at) return true;
  return log.some((entry) => {
    const version = inForce(entry);
    return (
      version.open &&
      version.systems.includes(stream.system) &&
      version.quantity === stream.quantity &&
      (version.point === null || version.point === stream.pointCode)
    );
  });
}

export interface ProbeFacts {
  readonly index: IndexedSetUp;
  readonly now: Instant;
  readonly current: Current | undefined;
  /** Open ones of the stream. */
  readonly findings: readonly Finding[];
  /** Of the stream, newest first. */
  readonly calibrations: readonly Calibration[];
  /** Open entries of probe work. */
  readonly log: readonly LogEntry[];
  readonly twin: Stream | undefined;
  readonly twinMoved: boolean;
}

export function probeRowOf(at: SystemSetUp, stream: Stream, facts: ProbeFacts): ProbeRow {
  const { now, current, calibrations, findings } = facts;
  const { label, unitLabel, decimals } = labelOf(stream.quantity);
  const last = newest(calibrations);
  const due = dueAt(stream.quantity, calibrations);
  const silent =
    findings.some((row) => traitsOf(row).isNotKnown) ||
    (current !== undefined && current.silentAt !== null && now >= current.silentAt);
  const health = healthOf({
    now,
    silent,
    flag: current?.flag ?? 9,
    findings,
    isChecked: isChecked(stream, calibrations, facts.log, now),
    slope: lastSetRight(calibrations)?.slope ?? null,
    offset: lastSetRight(calibrations)?.offset ?? null,
    due,
    twinMoved: facts.twinMoved,
  });
  return {
    stream: stream.id,
    system: at.system.code,
    systemName: at.system.name,
    point: stream.pointCode,
    quantity: stream.quantity,
    label,
    unitLabel,
    decimals,
    twin: facts.twin?.pointCode ?? null,
    letter: health.letter,
    word: HEALTH_WORDS[health.letter],
    why: health.why,
    value: current?.value ?? null,
    at: current?.at ?? null,
    delay: current ? current.received - current.at : null,
    last: last ? { kind: last.kind, kindLabel: kindLabelOf(last.kind), at: last.at, by: last.by } : null,
    due,
    expected: calibratedEvery(stream.quantity) !== null,
  };
}

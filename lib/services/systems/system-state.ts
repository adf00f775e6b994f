import type { FindingView, StreamState, SystemState } from "#contract/views.ts";
import { systemStanding } from "#core/alarms/stream-standing.ts";
import { derivedPairs } from "#core/evaluate/derivations.ts";
import { whyNotDerived } from "#core/evaluate/why-not-derived.ts";
import type { LogEntry } from "#core/logbook/entry.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Alarm, Current, Finding, Resident } from "#store/port.ts";
import type { Sweep } from "../deps.ts";
import type { IndexedSetUp, SystemSetUp } from "../set-up.ts";
import { factsOf } from "./derived-inputs.ts";
import { alarmsByFinding, byGravity, findingView } from "./finding-view.ts";
import { streamState } from "./stream-state.ts";
import { mutedWords, quietNow, systemNotes } from "./system-notes.ts";

/** Rows read once, from which the states of many systems are made. */
export interface Rows {
  readonly index: IndexedSetUp;
  readonly currents: readonly Current[];
  readonly findings: readonly Finding[];
  readonly alarms: readonly Alarm[];
  readonly sweeps: ReadonlyMap<number, Sweep>;
  /** Log entries that may keep alarms quiet now. */
  readonly log: readonly LogEntry[];
  readonly now: Instant;
}

function worstDeviation(streams: readonly StreamState[]): number | null {
  let worst: number | null = null;
  for (const { deviation } of streams) {
    if (deviation !== null) worst = Math.max(worst ?? 0, Math.abs(deviation));
  }
  return worst;
}

/** "3 bonnethead shark (adult)"; one with a name: "Mabel, giant Pacific octopus (adult)". */
function inWords(resident: Resident): string {
  const who = resident.name
    ? `${resident.name}, ${resident.speciesName}`
    : `${resident.count} ${resident.speciesName}`;
  return `${who} (${resident.stage})`;
}

function systemState(
  at: SystemSetUp,
  streams: readonly StreamState[],
  findings: readonly FindingView[],
  now: Instant,
): SystemState {
  const { system } = at;
  return {
    system: system.code,
    name: system.name,
    site: at.site.code,
    kind: system.kind,
    type: system.type,
    water: system.water,
    volume: system.volume,
    loops: at.loops.map((loop) => loop.code),
    residents: at.residents
      .filter((row) => row.from <= now && (row.to === null || now < row.to))
      .map(inWords),
    standing: systemStanding(streams, findings),
    worst: worstDeviation(streams),
    streams: [...streams],
    findings: [...findings],
  };
}

/** A derived value that is not known says which input is missing. Changes `streams`. */
function tellWhyNotDerived(
  at: SystemSetUp,
  streams: StreamState[],
  currents: ReadonlyMap<number, Current>,
  now: Instant,
): void {
  if (!streams.some(({ origin, silent }) => origin === "derived" && silent)) return;
  const facts = factsOf(at);
  const pairs = derivedPairs(facts);
  for (const [i, stream] of streams.entries()) {
    if (stream.origin !== "derived" || !stream.silent) continue;
    const pair = pairs.find(
      ({ formula, trigger }) => formula === stream.quantity && trigger.pointCode === stream.point,
    );
    const why = pair && whyNotDerived(facts, pair, (id) => currents.get(id), now);
    if (why) streams[i] = { ...stream, reasons: [why] };
  }
}

export const isRunning = ({ system }: SystemSetUp, now: Instant): boolean =>
  system.opened <= now && (system.closed === null || now < system.closed);

/** The states of these systems, in the order given; `keep` picks which. */
export function systemStates(rows: Rows, keep: (at: SystemSetUp) => boolean): SystemState[] {
  const { index, now } = rows;
  const currents = new Map(rows.currents.map((row) => [row.stream, row]));
  const alarms = alarmsByFinding(rows.alarms);
  const bySystem = new Map<string, FindingView[]>();
  const byStream = new Map<number, FindingView[]>();
  for (const finding of rows.findings) {
    const at = index.byId.get(finding.system);
    if (finding.ended !== null || !at || !keep(at)) continue;
    const view = findingView(finding, alarms.get(finding.id), index, now, currents.get(finding.stream));
    if (!view) continue;
    bySystem.set(finding.system, [...(bySystem.get(finding.system) ?? []), view]);
    byStream.set(finding.stream, [...(byStream.get(finding.stream) ?? []), view]);
  }
  return index.systems.filter(keep).map((at) => {
    const quiet = quietNow(at, rows.log, now);
    const streams = at.streams.map((stream) => {
      const known = {
        current: currents.get(stream.id),
        sweep: rows.sweeps.get(stream.id),
        findings: byStream.get(stream.id) ?? [],
      };
      const muted = mutedWords(quiet, stream);
      return { ...streamState(at, stream, known, now), ...(muted === undefined ? {} : { muted }) };
    });
    tellWhyNotDerived(at, streams, currents, now);
    const notes = systemNotes(at, quiet, now);
    const state = systemState(at, streams, (bySystem.get(at.system.id) ?? []).sort(byGravity), now);
    return notes.length === 0 ? state : { ...state, notes };
  });
}

/** One system under evaluation, and how it is brought back as of the cursor. */
import { isStanding } from "#core/alarms/alarm.ts";
import type { Finding } from "#core/alarms/finding.ts";
import { isOfReceiving, type ReceiveKind } from "#core/alarms/kinds.ts";
import { muteWindowsOf } from "#core/evaluate/mute-windows.ts";
import { overrunKey } from "#core/evaluate/overrun.ts";
import {
  alarmKeyOf,
  emptyReceiveState,
  leaveUnsettled,
  type ReceiveState,
} from "#core/evaluate/receive-state.ts";
import type { SystemSettings } from "#core/evaluate/settings.ts";
import { readWater } from "#core/evaluate/water-state.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import type { Store } from "#store/port.ts";
import { firstInputAt, inputsBetween, type Senders } from "./inputs.ts";
import { createWalker, takeOutputs, type Walker, walk } from "./walker.ts";

export interface SystemEvaluation {
  settings: SystemSettings;
  walker: Walker;
  receiving: ReceiveState;
}

const MANY = 10_000;
/** No window of quiet lasts longer than a day. */
const LONGEST_QUIET = DAY;

/** The run of a system holding exactly what was received up to the cursor. */
export async function restoreEvaluation(
  store: Store,
  settings: SystemSettings,
  senders: Senders,
  received: Instant,
): Promise<SystemEvaluation> {
  const checkpoint = await store.checkpointAtOrBefore(settings.system.id, Number.MAX_SAFE_INTEGER);
  const walker = createWalker(settings, checkpoint ? readWater(checkpoint.state) : undefined);
  // Folding what the cursor has already seen gives the state back; its outputs are stored and are dropped here.
  let from = checkpoint?.at ?? 0;
  for (;;) {
    const inputs = await inputsBetween(store, settings, senders, from, from + DAY, received);
    for (const input of inputs) walk(walker, input, true);
    takeOutputs(walker);
    const next = await firstInputAt(store, settings, senders.clocks, from + DAY);
    if (next === null || next > received + DAY) break;
    from = next;
  }
  const receiving = await restoreReceiveState(store, settings);
  // Whether what came late still holds may not have been asked before the evaluator stopped; asking twice changes nothing.
  for (const [id, state] of walker.water.streams)
    if (state.late && !state.recorded) leaveUnsettled(receiving, id, received);
  return { settings, walker, receiving };
}

/** How the receive state goes on with each open finding that was raised from it. */
const TAKE_UP: { readonly [K in ReceiveKind]: (receiving: ReceiveState, finding: Finding) => void } = {
  silent: (receiving, finding) => receiving.silent.set(finding.stream, finding),
  overrun: (receiving, finding) => receiving.overruns.set(overrunKey(finding.stream, finding.rule), finding),
};

async function restoreReceiveState(store: Store, settings: SystemSettings): Promise<ReceiveState> {
  const receiving = emptyReceiveState();
  const system = settings.system.id;
  for (const alarm of await store.readAlarms({ active: true, system, limit: MANY }))
    if (isStanding(alarm.state)) receiving.alarms.set(alarmKeyOf(alarm), alarm);
  for (const finding of await store.readFindings({ open: true, system, limit: MANY })) {
    if (isOfReceiving(finding)) TAKE_UP[finding.kind](receiving, finding);
  }
  for (const row of await store.readCurrent(settings.streams.map((stream) => stream.id))) {
    if (row.silentAt === null || settings.byId.get(row.stream)?.silenceMs == null) continue;
    if (!receiving.silent.has(row.stream)) receiving.due.set(row.stream, row.silentAt);
  }
  receiving.nextDue = Math.min(Number.POSITIVE_INFINITY, ...receiving.due.values());
  return receiving;
}

/** What is set up has changed: the same state under new settings. */
export function applyNewSettings(run: SystemEvaluation, settings: SystemSettings): void {
  const { water, out, snapshots, checkpoints, nextSnapshot, nextCheckpoint } = run.walker;
  run.walker = {
    ...createWalker(settings, water),
    out,
    snapshots,
    checkpoints,
    nextSnapshot,
    nextCheckpoint,
  };
  run.settings = settings;
}

/** Learn what is logged and keeps something quiet now: of one entry's systems, or of all. */
export async function readMuteWindows(
  store: Store,
  runs: ReadonlyMap<string, SystemEvaluation>,
  now: Instant,
  root: string | null,
): Promise<void> {
  const changed = root === null ? null : await store.readLogEntry(root);
  const touched = changed?.versions.flatMap((version) => version.systems) ?? [...runs.keys()];
  for (const id of new Set(touched)) {
    const run = runs.get(id);
    if (!run) continue;
    const range = { from: now - LONGEST_QUIET, to: now + LONGEST_QUIET, systems: [id], limit: MANY };
    run.receiving.quiet = muteWindowsOf(await store.readLog(range));
  }
}

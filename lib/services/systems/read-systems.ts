import type { SystemState, SystemsView } from "#contract/views.ts";
import { worstFirst } from "#core/alarms/standing.ts";
import type { Instant } from "#core/time/instant.ts";
import type { ReadDeps } from "../deps.ts";
import type { IndexedSetUp } from "../set-up.ts";
import { readQuietLog } from "./system-notes.ts";
import { isRunning, type Rows, systemStates } from "./system-state.ts";

/** More open findings than this is a flood that no page could show. */
export const MOST_FINDINGS = 5_000;

/** Everything that the states of all systems are made of, one query each. */
export async function readRows(
  { store, setUp, sweep }: ReadDeps,
  now: Instant,
): Promise<Rows & { readonly seq: number }> {
  const { seq } = await store.readCursor();
  const [currents, findings, alarms, log] = await Promise.all([
    store.readCurrent(),
    store.readFindings({ open: true, limit: MOST_FINDINGS }),
    store.readAlarms({ active: true, limit: MOST_FINDINGS }),
    readQuietLog(store, now),
  ]);
  const index = await setUp.read(currents.map((row) => row.stream));
  return { index, currents, findings, alarms, sweeps: await sweep.read(index, now), log, now, seq };
}

function oldestCritical(systems: readonly SystemState[]): SystemsView["oldest"] {
  let oldest: SystemsView["oldest"] = null;
  for (const { system, streams } of systems) {
    for (const { critical, quantity, at } of streams) {
      if (critical && at !== null && (oldest === null || at < oldest.at)) oldest = { system, quantity, at };
    }
  }
  return oldest;
}

/** The site whose clock and name head a page. With several sites their systems still stand in one list. */
export function headSite(index: IndexedSetUp): { readonly zone: string; readonly name: string } {
  const [first, ...more] = index.setUp.sites;
  if (!first) return { zone: "UTC", name: "" };
  return {
    zone: first.zone,
    name: more.length === 0 ? first.name : index.setUp.sites.map((site) => site.name).join(", "),
  };
}

/** Every running system and where it stands, worst first: needs action, wants a look, not known, calm. */
export async function readSystems(deps: ReadDeps): Promise<SystemsView> {
  const now = deps.clock();
  const rows = await readRows(deps, now);
  const systems = systemStates(rows, (at) => isRunning(at, now)).sort(worstFirst);
  const { zone, name } = headSite(rows.index);
  return { now, zone, siteName: name, seq: rows.seq, systems, oldest: oldestCritical(systems) };
}

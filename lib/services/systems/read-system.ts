import type { SystemState } from "#contract/views.ts";
import type { ReadDeps } from "../deps.ts";
import { notFound } from "../errors.ts";
import { lookUp, systemOf } from "../set-up.ts";
import { MOST_FINDINGS } from "./read-systems.ts";
import { readQuietLog } from "./system-notes.ts";
import { systemStates } from "./system-state.ts";

/** One system now, also one that is closed. Throws AppError "not_found". */
export async function readSystem(deps: ReadDeps, code: string): Promise<SystemState> {
  const now = deps.clock();
  const { index, at } = await lookUp(deps.setUp, (found) => ({ index: found, at: systemOf(found, code) }));
  const [currents, findings, alarms, sweeps, log] = await Promise.all([
    deps.store.readCurrent(at.streams.map((stream) => stream.id)),
    deps.store.readFindings({ open: true, system: at.system.id, limit: MOST_FINDINGS }),
    deps.store.readAlarms({ active: true, system: at.system.id, limit: MOST_FINDINGS }),
    deps.sweep.read(index, now),
    readQuietLog(deps.store, now, [at.system.id]),
  ]);
  const [state] = systemStates({ index, currents, findings, alarms, sweeps, log, now }, (one) => one === at);
  if (!state) throw notFound("system", code, "GET /api/v1/systems lists the short names.");
  return state;
}

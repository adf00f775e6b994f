import { type LogAnswer, logRequest } from "#contract/log.ts";
import type { LogVersion } from "#core/logbook/entry.ts";
import { StoreError } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, invalid, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demandAt, demandSomewhere } from "../permission.ts";
import { lookUp, type SystemSetUp, systemOf } from "../set-up.ts";
import { logIssues } from "./log-entry-checks.ts";
import { logEntryView } from "./log-view.ts";

/** The systems of these short names, each one the actor may write about. Throws AppError "not_found" or "forbidden". */
export async function systemsWritten(
  deps: WriteDeps,
  actor: Actor,
  codes: readonly string[],
): Promise<SystemSetUp[]> {
  const systems = await lookUp(deps.setUp, (index) => codes.map((code) => systemOf(index, code)));
  for (const at of systems) demandAt(actor, "write-log", at);
  return systems;
}

/** Stores a version and answers with the entry as it stands then. Two versions after one meet in the store: the second is refused. */
export async function storeVersion(
  deps: WriteDeps,
  actor: Actor,
  version: LogVersion,
  verb: string,
): Promise<LogAnswer> {
  const now = version.entered;
  const audit = audited(actor, now, verb, `log-entry:${version.root}`, version);
  const { root, received, repeated } = await deps.store
    .writeLog(version, now, audit)
    .catch((cause: unknown) => {
      if (cause instanceof StoreError && cause.code === "invalid" && version.supersedes !== null)
        throw new AppError(
          "conflict",
          "Somebody else has closed or corrected this entry in the meantime: reload it.",
          {
            cause,
          },
        );
      throw cause;
    });
  return answerOf(deps, actor, root, received, repeated);
}

/** The entry as stored; the system's own index, because the actor has shown that they may write there. */
export async function answerOf(
  deps: WriteDeps,
  actor: Actor,
  root: string,
  received: number,
  repeated: boolean,
): Promise<LogAnswer> {
  const entry = await deps.store.readLogEntry(root);
  const view = entry && logEntryView(entry, await deps.setUp.read(), deps.clock());
  if (!view)
    throw new AppError("conflict", `${actor.name}'s entry was stored but its systems are no longer set up.`);
  return { entry: view, repeated, received };
}

/** Throws AppError "invalid" unless the alarm exists and rang at one of these systems. */
async function checkAlarm(deps: WriteDeps, alarm: string, systems: readonly SystemSetUp[]): Promise<void> {
  const found = await deps.store.readAlarm(alarm);
  if (!found) throw notFound("alarm", alarm, "GET /api/v1/alarms lists them.");
  if (systems.some((at) => at.system.id === found.system)) return;
  throw invalid([
    {
      field: "alarm",
      value: alarm,
      says: "is an alarm of a system that this entry does not list",
      remedy: "add its system",
    },
  ]);
}

/**
 * Writes an entry in the logbook, once a client id. Throws AppError "forbidden", "not_found" or "invalid" with every fault named.
 */
export async function writeLog(deps: WriteDeps, actor: Actor, body: unknown): Promise<LogAnswer> {
  demandSomewhere(actor, "write-log");
  const request = parse(logRequest, body);
  const systems = await systemsWritten(deps, actor, request.systems);
  const now = deps.clock();
  const id = deps.newId(now);
  const version: LogVersion = {
    id,
    root: id,
    clientId: request.clientId,
    change: "first",
    supersedes: null,
    reason: null,
    kind: request.kind,
    systems: systems.map((at) => at.system.id),
    point: request.point ?? null,
    quantity: request.quantity ?? null,
    at: request.at,
    until: request.until ?? null,
    open: request.open ?? false,
    expected: request.expected ?? null,
    amount: request.amount ?? null,
    unit: request.unit ?? null,
    item: request.item ?? null,
    animals: request.animals ?? [],
    text: request.text,
    alarm: request.alarm ?? null,
    by: actor.name,
    byId: actor.id,
    entered: now,
  };
  const issues = logIssues(version, systems, now);
  if (issues.length > 0) throw invalid(issues);
  if (version.alarm !== null) await checkAlarm(deps, version.alarm, systems);
  return storeVersion(deps, actor, version, "write-log");
}

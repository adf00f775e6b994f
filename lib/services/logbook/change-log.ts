import { closeLogRequest, correctLogRequest, type LogAnswer } from "#contract/log.ts";
import { inForce, type LogEntry, type LogVersion } from "#core/logbook/entry.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, invalid, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { demandAt, demandSomewhere } from "../permission.ts";
import { lookUp, type SystemSetUp } from "../set-up.ts";
import { logIssues } from "./log-entry-checks.ts";
import { answerOf, storeVersion, systemsWritten } from "./write-log.ts";

/** The entry of that id and its systems, all of them the actor's to write about. */
async function written(
  deps: WriteDeps,
  actor: Actor,
  root: string,
): Promise<{ readonly entry: LogEntry; readonly systems: readonly SystemSetUp[] }> {
  const entry = await deps.store.readLogEntry(root);
  if (!entry) throw notFound("log entry", root, "GET /api/v1/log-entries lists them.");
  const systems = await lookUp(deps.setUp, (index) =>
    inForce(entry).systems.map((id) => {
      const at = index.byId.get(id);
      if (!at) throw notFound("log entry", root, "Its system is no longer set up.");
      return at;
    }),
  );
  for (const at of systems) demandAt(actor, "write-log", at);
  return { entry, systems };
}

const repeatOf = (entry: LogEntry, clientId: string) =>
  entry.versions.find((version) => version.clientId === clientId);

const after = (
  deps: WriteDeps,
  actor: Actor,
  entry: LogEntry,
  change: Pick<LogVersion, "clientId" | "change"> & Partial<LogVersion>,
): LogVersion => {
  const { received: _received, ...before } = inForce(entry);
  const now = deps.clock();
  return {
    ...before,
    reason: null,
    ...change,
    id: deps.newId(now),
    supersedes: before.id,
    by: actor.name,
    byId: actor.id,
    entered: now,
  };
};

/** Closes an entry that goes on. Throws AppError "forbidden", "not_found", "invalid"; "conflict" where it is closed already. */
export async function closeLog(
  deps: WriteDeps,
  actor: Actor,
  root: string,
  body: unknown,
): Promise<LogAnswer> {
  demandSomewhere(actor, "write-log");
  const request = parse(closeLogRequest, body);
  const { entry, systems } = await written(deps, actor, root);
  const repeat = repeatOf(entry, request.clientId);
  if (repeat) return answerOf(deps, actor, root, repeat.received, true);
  if (!inForce(entry).open) throw new AppError("conflict", "This entry is already closed.");
  const version = after(deps, actor, entry, {
    clientId: request.clientId,
    change: "close",
    open: false,
    until: request.at,
    ...(request.text === undefined || request.text === "" ? {} : { text: request.text }),
  });
  const issues = logIssues(version, systems, version.entered);
  if (issues.length > 0)
    throw invalid(issues.map((issue) => (issue.field === "until" ? { ...issue, field: "at" } : issue)));
  return storeVersion(deps, actor, version, "close-log");
}

/**
 * Corrects an entry with a reason; what stood before stays readable. Throws AppError "forbidden", "not_found", "invalid"; "conflict" if
 * somebody else was first.
 */
export async function correctLog(
  deps: WriteDeps,
  actor: Actor,
  root: string,
  body: unknown,
): Promise<LogAnswer> {
  demandSomewhere(actor, "write-log");
  const { clientId, reason, systems: codes, ...fields } = parse(correctLogRequest, body);
  const { entry, systems: before } = await written(deps, actor, root);
  const repeat = repeatOf(entry, clientId);
  if (repeat) return answerOf(deps, actor, root, repeat.received, true);
  const systems = codes === undefined ? before : await systemsWritten(deps, actor, codes);
  const given = Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined));
  if (codes === undefined && Object.keys(given).length === 0)
    throw invalid([
      { field: "", value: null, says: "changes nothing", remedy: "give the field that was wrong" },
    ]);
  const version = after(deps, actor, entry, {
    clientId,
    change: "correct",
    reason,
    ...given,
    ...(typeof given.until === "number" ? { open: false } : {}),
    systems: systems.map((at) => at.system.id),
  });
  const issues = logIssues(version, systems, version.entered);
  if (issues.length > 0) throw invalid(issues);
  return storeVersion(deps, actor, version, "correct-log");
}

import { type AcknowledgeAnswer, acknowledgeRequest } from "#contract/people.ts";
import { MINUTE } from "#core/time/instant.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, invalid, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demandAt, demandSomewhere } from "../permission.ts";
import { lookUp } from "../set-up.ts";

const AHEAD = 2 * MINUTE;

/**
 * Says that somebody has seen an alarm, once a client id. The evaluator makes the transition of it. Throws AppError "forbidden",
 * "not_found", "invalid"; "conflict" where nothing is left to acknowledge.
 */
export async function acknowledgeAlarm(
  deps: WriteDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<AcknowledgeAnswer> {
  demandSomewhere(actor, "acknowledge");
  const request = parse(acknowledgeRequest, body);
  const now = deps.clock();
  const alarm = await deps.store.readAlarm(id);
  if (!alarm) throw notFound("alarm", id, "GET /api/v1/alarms lists them.");
  const at = await lookUp(deps.setUp, (index) => {
    const found = index.byId.get(alarm.system);
    if (!found) throw notFound("alarm", id, "Its system is no longer set up.");
    return found;
  });
  demandAt(actor, "acknowledge", at);
  const done = request.at ?? now;
  if (done > now + AHEAD || done < alarm.raised - AHEAD)
    throw invalid([
      {
        field: "at",
        value: String(done),
        says: `is ${done > now ? "in the future" : "before the alarm was raised"}`,
        remedy: "leave it out, or check the clock of the device",
      },
    ]);
  const added = {
    id: deps.newId(now),
    clientId: request.clientId,
    alarm: alarm.id,
    by: actor.name,
    byId: actor.id,
    note: request.note === undefined || request.note === "" ? null : request.note,
    at: done,
  };
  const known = alarm.state === "NORMAL" || alarm.state === "ACK";
  if (known && !(await isRepeat(deps, request.clientId, alarm.id)))
    throw new AppError(
      "conflict",
      alarm.state === "ACK"
        ? `${alarm.acknowledgedBy ?? "Somebody"} has already acknowledged this alarm.`
        : "This alarm is over and acknowledged: there is nothing left to do.",
    );
  const { stored, repeated } = await deps.store.acknowledge(
    added,
    now,
    audited(actor, now, "acknowledge-alarm", `alarm:${alarm.id}`, added),
  );
  const { received } = stored;
  return {
    id: stored.id,
    alarm: stored.alarm,
    by: stored.by,
    at: stored.at,
    note: stored.note,
    repeated,
    received,
  };
}

/** A queue that sends again after its answer was lost must hear the same, not that somebody else was first. */
async function isRepeat(deps: WriteDeps, clientId: string, alarm: string): Promise<boolean> {
  const known = await deps.store.readAcknowledgement(clientId);
  return known?.alarm === alarm;
}

import { type ChangeAnswer, type ChangeStreamRequest, changeStreamRequest } from "#contract/set-up-forms.ts";
import { basisAt, firstDifference, type ProbeBasis, withBasis } from "#core/set-up/probe-basis.ts";
import { DAY, type Instant, SECOND } from "#core/time/instant.ts";
import type { Stream } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { type FieldIssue, invalid, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demandAt, demandSomewhere } from "../permission.ts";
import { lookUp } from "../set-up.ts";
import { answerOf } from "./change-band.ts";

const OLDEST = 20 * 366 * DAY;

function basisIssues(
  stream: Stream,
  request: ChangeStreamRequest,
  from: Instant,
  now: Instant,
): FieldIssue[] {
  const issues: FieldIssue[] = [];
  const only = (field: "phScale" | "phOffset" | "electrode", quantity: string) => {
    if (request[field] === undefined || (stream.origin === "probe" && stream.quantity === quantity)) return;
    issues.push({
      field,
      value: String(request[field]),
      says: `belongs to a probe of ${quantity}, not to ${stream.quantity} (${stream.origin})`,
      remedy: "leave it out",
    });
  };
  only("phScale", "ph");
  only("phOffset", "ph");
  only("electrode", "orp");
  if (request.basisFrom !== undefined && (from > now || from < now - OLDEST))
    issues.push({
      field: "basisFrom",
      value: new Date(from).toISOString(),
      says: "is in the future, or more than 20 years ago",
      remedy: "give the time of the calibration",
    });
  return issues;
}

/** What the probe's numbers stand on after the change; undefined where that is not changed. */
function basisAsked(
  stream: Stream,
  request: ChangeStreamRequest,
  now: Instant,
): readonly ProbeBasis[] | undefined {
  const { phScale, phOffset, electrode } = request;
  const from = request.basisFrom ?? now;
  const issues = basisIssues(stream, request, from, now);
  if (phScale === undefined && phOffset === undefined && electrode === undefined) {
    if (request.basisFrom !== undefined)
      issues.push({
        field: "basisFrom",
        value: new Date(from).toISOString(),
        says: "has nothing to apply to",
        remedy: "give phScale, phOffset or electrode with it, or leave it out",
      });
    if (issues.length > 0) throw invalid(issues);
    return undefined;
  }
  if (issues.length > 0) throw invalid(issues);
  const held = basisAt(stream.basis, from);
  return withBasis(stream.basis, {
    from,
    phScale: phScale ?? held.phScale,
    phOffset: phOffset ?? held.phOffset,
    electrode: electrode ?? held.electrode,
  });
}

/**
 * Changes what is expected of a stream: how often it speaks, whether its system is known without it, and for pH and ORP what its numbers
 * stand on, from a date on, with the water judged again from there. Throws "forbidden", "not_found", "invalid".
 */
export async function changeStream(
  deps: WriteDeps,
  actor: Actor,
  id: number,
  body: unknown,
): Promise<ChangeAnswer> {
  demandSomewhere(actor, "change-stream");
  const request = parse(changeStreamRequest, body);
  const { reason, intervalSeconds, critical } = request;
  const asked = Object.entries(request).filter(([field, value]) => field !== "reason" && value !== undefined);
  if (asked.length === 0)
    throw invalid([{ field: "", value: null, says: "changes nothing", remedy: "give the field to change" }]);
  const { before, at } = await lookUp(deps.setUp, (index) => {
    const stream = index.streams.get(id);
    const system = stream && index.byId.get(stream.system);
    if (!stream || !system)
      throw notFound("stream", String(id), "GET /api/v1/systems/{system}/set-up lists their numbers.");
    return { before: stream, at: system };
  });
  demandAt(actor, "change-stream", at);
  const now = deps.clock();
  const basis = basisAsked(before, request, now);
  const after: Stream = {
    ...before,
    ...(intervalSeconds === undefined
      ? {}
      : { interval: intervalSeconds === null ? null : intervalSeconds * SECOND }),
    ...(critical === undefined ? {} : { critical }),
    ...(basis === undefined ? {} : { basis }),
  };
  const subject = `stream:${id}`;
  const written = await deps.store.writeSetUp(
    { streams: [after] },
    [{ system: at.system.id, from: Math.min(now, firstDifference(before.basis, after.basis) ?? now) }],
    now,
    audited(actor, now, "change-stream", subject, { before, after, reason }),
  );
  return answerOf(written, subject, true, now);
}
